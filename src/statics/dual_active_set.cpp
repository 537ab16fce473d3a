#include "statics/dual_active_set.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace weighwright::statics {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

double dot(const double* a, const double* b, int n) {
  double sum = 0.0;
  for (int i = 0; i < n; ++i) sum += a[i] * b[i];
  return sum;
}

}  // namespace

DualActiveSet::DualActiveSet(int unknowns, int constraints)
    : r_(unknowns),
      m_(constraints),
      q_(at(unknowns)),
      direction_(at(unknowns) + 1),
      new_image_(at(unknowns)),
      is_active_(at(constraints)) {
  active_.reserve(at(unknowns) + 1);
  multiplier_.reserve(at(unknowns) + 1);
  image_.reserve(at(unknowns) * (at(unknowns) + 1));
  gram_.resize((at(unknowns) + 1) * (at(unknowns) + 1));
}

double DualActiveSet::value(int constraint, const double* offsets) const {
  return dot(normals_ + at(constraint) * at(r_), q_.data(), r_) + offsets[constraint];
}

void DualActiveSet::push(int constraint, double multiplier) {
  active_.push_back(constraint);
  multiplier_.push_back(multiplier);
  is_active_[at(constraint)] = 1;
  const double* normal = normals_ + at(constraint) * at(r_);
  for (int i = 0; i < r_; ++i) image_.push_back(dot(inverse_ + at(i) * at(r_), normal, r_));
}

void DualActiveSet::drop(std::size_t position) {
  is_active_[at(active_[position])] = 0;
  active_.erase(active_.begin() + static_cast<std::ptrdiff_t>(position));
  multiplier_.erase(multiplier_.begin() + static_cast<std::ptrdiff_t>(position));
  const auto first = image_.begin() + static_cast<std::ptrdiff_t>(position) * r_;
  image_.erase(first, first + r_);
}

/// Cholesky of the Gram matrix of the active set; false when its normals depend on one another.
bool DualActiveSet::factor() {
  const std::size_t n = active_.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double* normal = normals_ + at(active_[i]) * at(r_);
    double diagonal = 0.0;
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = dot(normal, image_.data() + j * at(r_), r_);
      if (i == j) diagonal = sum;
      for (std::size_t k = 0; k < j; ++k) sum -= gram_[i * n + k] * gram_[j * n + k];
      if (i == j) {
        if (!(sum > 1e-12 * diagonal)) return false;
        gram_[i * n + i] = std::sqrt(sum);
      } else {
        gram_[i * n + j] = sum / gram_[j * n + j];
      }
    }
  }
  return true;
}

void DualActiveSet::back_substitute(std::vector<double>& x) const {
  const std::size_t n = active_.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) x[i] -= gram_[i * n + k] * x[k];
    x[i] /= gram_[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) x[i] -= gram_[k * n + i] * x[k];
    x[i] /= gram_[i * n + i];
  }
}

void DualActiveSet::move_to(const double* free) {
  std::copy(free, free + r_, q_.begin());
  for (std::size_t k = 0; k < active_.size(); ++k) {
    for (int i = 0; i < r_; ++i) q_[at(i)] += image_[k * at(r_) + at(i)] * multiplier_[k];
  }
}

void DualActiveSet::start_from(const std::vector<int>& guess,
                               const double* offsets,
                               const double* free) {
  active_.clear();
  multiplier_.clear();
  image_.clear();
  std::fill(is_active_.begin(), is_active_.end(), char{0});
  for (const int constraint : guess) {
    if (static_cast<int>(active_.size()) == r_) break;
    if (is_active_[at(constraint)] != 0) continue;
    push(constraint, 0.0);
  }
  while (!active_.empty()) {
    if (!factor()) {
      drop(active_.size() - 1);
      continue;
    }
    for (std::size_t k = 0; k < active_.size(); ++k) {
      multiplier_[k] = -(dot(normals_ + at(active_[k]) * at(r_), free, r_) + offsets[active_[k]]);
    }
    back_substitute(multiplier_);
    std::size_t worst = 0;
    for (std::size_t k = 1; k < active_.size(); ++k) {
      if (multiplier_[k] < multiplier_[worst]) worst = k;
    }
    if (multiplier_[worst] >= 0.0) break;
    drop(worst);
  }
  move_to(free);
}

/// Whether the active constraints are met: not so when their dependence went unseen.
bool DualActiveSet::holds(const double* offsets, double scale) const {
  for (const int constraint : active_) {
    if (!(std::abs(value(constraint, offsets)) <= 1e-6 * scale)) return false;
  }
  return true;
}

DualStatus DualActiveSet::solve(const double* inverse,
                                const double* normals,
                                const double* offsets,
                                const double* free,
                                const std::vector<int>& guess) {
  inverse_ = inverse;
  normals_ = normals;
  steps_ = 0;
  blocking_ = -1;
  double scale = 0.0;
  for (int i = 0; i < m_; ++i) scale = std::max(scale, std::abs(offsets[i]));
  for (int i = 0; i < r_; ++i) scale = std::max(scale, std::abs(free[i]));
  const double tolerance = 1e-11 * scale + std::numeric_limits<double>::min();
  const int limit = 50 * (m_ + r_);
  start_from(guess, offsets, free);
  while (true) {
    int worst = -1;
    double worst_value = -tolerance;
    for (int i = 0; i < m_; ++i) {
      if (is_active_[at(i)] != 0) continue;
      const double v = value(i, offsets);
      if (v < worst_value) {
        worst_value = v;
        worst = i;
      }
    }
    if (worst < 0) return holds(offsets, scale) ? DualStatus::solved : DualStatus::step_limit;
    const double* normal = normals_ + at(worst) * at(r_);
    for (int i = 0; i < r_; ++i) new_image_[at(i)] = dot(inverse_ + at(i) * at(r_), normal, r_);
    const double own = dot(normal, new_image_.data(), r_);
    double entering = 0.0;
    // Raise the multiplier of the violated constraint until it holds, or until another one of the
    // active set reaches zero and leaves.
    while (true) {
      if (++steps_ > limit) return DualStatus::step_limit;
      const std::size_t n = active_.size();
      double curvature = own;
      if (n > 0) {
        if (!factor()) return DualStatus::step_limit;
        direction_.resize(n);
        for (std::size_t k = 0; k < n; ++k) {
          direction_[k] = -dot(normals_ + at(active_[k]) * at(r_), new_image_.data(), r_);
        }
        back_substitute(direction_);
        for (std::size_t k = 0; k < n; ++k) {
          curvature += direction_[k] * dot(normal, image_.data() + k * at(r_), r_);
        }
      }
      // The Gram matrix loses half the digits: more constraints than unknowns always depend.
      const bool dependent = n >= at(r_) || curvature <= 1e-11 * own;
      const double full =
          dependent ? std::numeric_limits<double>::infinity() : -value(worst, offsets) / curvature;
      double partial = std::numeric_limits<double>::infinity();
      std::size_t leaving = n;
      for (std::size_t k = 0; k < n; ++k) {
        if (direction_[k] < 0.0 && -multiplier_[k] / direction_[k] < partial) {
          partial = -multiplier_[k] / direction_[k];
          leaving = k;
        }
      }
      if (dependent && leaving == n) {
        blocking_ = worst;
        return DualStatus::infeasible;
      }
      const double step = std::min(full, partial);
      for (std::size_t k = 0; k < n; ++k) multiplier_[k] += step * direction_[k];
      entering += step;
      move_to(free);
      for (int i = 0; i < r_; ++i) q_[at(i)] += new_image_[at(i)] * entering;
      if (full <= partial) {
        push(worst, entering);
        break;
      }
      drop(leaving);
    }
  }
}

}  // namespace weighwright::statics
