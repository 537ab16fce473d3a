#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <stdexcept>
#include <utility>

#include "statics/held.h"
#include "statics/surface.h"

namespace weighwright::statics {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kPast_m = 1e-9;   // beyond an event: which contacts hold from there on
constexpr double kSlope = 1e-9;    // part of the largest slope that is rounding
constexpr int kMostEvents = 1000;  // far above the number of contacts that can open and close

bool has(const std::vector<int>& list, int item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

/// The deck with one stand's place held by a rigid support at a given rise.
class Lift {
 public:
  Lift(const Model& model,
       const LoadCase& load,
       Eigen::VectorXd heights_m,
       const Scales& scales,
       units::StandIndex stand)
      : model_(model),
        load_(load),
        heights_m_(std::move(heights_m)),
        stand_(stand.value),
        phi_(flexibility(model, scales)),
        free_m_(free_displacement(model, load, scales)),
        before_(solve_contact(model, load, heights_m_, scales)) {
    for (int c = 0; c < model.contact_count(); ++c) {
      const Contact& contact = model.contacts[static_cast<std::size_t>(c)];
      if (!contact.is_bearing && contact.stand.value == stand_) place_.push_back(c);
    }
    const double yielding = 1.0 / model.stand_stiffness_N_per_m(stand_);
    for (const int a : place_) {
      for (const int b : place_) phi_(a, b) -= yielding;
    }
    force_before_N_ = before_.status == ContactStatus::solved ? before_.stand_N(stand_) : 0.0;
    double air = kInfinite;
    for (const int c : place_) air = std::min(air, before_.gap_m(c));
    resting_m_ = heights_m_(stand_) - force_before_N_ * yielding + air;
    free_lift_m_ = force_before_N_ * yielding;
  }

  [[nodiscard]] const ContactState& before() const { return before_; }
  [[nodiscard]] double free_lift_m() const { return free_lift_m_; }
  [[nodiscard]] bool at_place(int contact) const { return has(place_, contact); }
  [[nodiscard]] const std::vector<int>& place() const { return place_; }

  [[nodiscard]] ContactState at(double lift_m) const {
    Eigen::VectorXd heights = heights_m_;
    heights(stand_) = resting_m_ + lift_m;
    return solve_driven(model_, phi_, load_.resultant,
                        model_.stand_of_contact.transpose() * heights - free_m_);
  }

  /// What the stand itself still carries.
  [[nodiscard]] double on_stand_N(double lift_m) const {
    if (lift_m == 0.0) return force_before_N_;
    if (!(free_lift_m_ > 0.0)) return 0.0;
    return force_before_N_ * std::max(0.0, 1.0 - lift_m / free_lift_m_);
  }

  struct Event {
    double lift_m = kInfinite;
    int contact = -1;
    bool opens = false;
  };

  /// First lift beyond the given one at which a contact opens or closes: forces and gaps are
  /// straight lines in between.
  [[nodiscard]] Event next_event(double lift_m) const {
    const ContactState here = at(lift_m + kPast_m);
    for (const int c : here.open) {  // opened at this very lift
      if (!has(before_.open, c) && !at_place(c)) return {lift_m, c, true};
    }
    const HeldResponse slope =
        respond(model_, phi_, here.open, model_.stand_of_contact.row(stand_).transpose());
    const double force_noise = kSlope * slope.contact_N.cwiseAbs().maxCoeff();
    const double gap_noise = kSlope * (1.0 + slope.gap_m.cwiseAbs().maxCoeff());
    Event next;
    for (int c = 0; c < model_.contact_count(); ++c) {
      const bool open = has(here.open, c);
      const double rate = open ? slope.gap_m(c, 0) : slope.contact_N(c, 0);
      if (!(rate < -(open ? gap_noise : force_noise))) continue;
      const double value = open ? here.gap_m(c) : here.contact_N(c);
      const double lift = lift_m + kPast_m - value / rate;
      if (lift < next.lift_m) next = {lift, c, !open};
    }
    return next;
  }

  /// First contact beside the place that presses now and opens.
  [[nodiscard]] Event first_opening() const {
    double lift_m = 0.0;
    for (int i = 0; i < kMostEvents; ++i) {
      const Event next = next_event(lift_m);
      if (next.contact < 0) return {};
      if (next.opens && !has(before_.open, next.contact) && !at_place(next.contact)) return next;
      lift_m = next.lift_m;
    }
    return {};
  }

 private:
  const Model& model_;
  const LoadCase& load_;
  Eigen::VectorXd heights_m_;
  int stand_;
  Eigen::MatrixXd phi_;
  Eigen::VectorXd free_m_;
  ContactState before_;
  std::vector<int> place_;  // contacts of the stand
  double force_before_N_ = 0.0;
  double resting_m_ = 0.0;  // height of the place before the lift
  double free_lift_m_ = 0.0;
};

}  // namespace

JackState jack(const Model& model,
               const LoadCase& load,
               const Eigen::VectorXd& heights_m,
               const Scales& scales,
               units::StandIndex stand,
               double lift_m) {
  if (stand.value < 0 || stand.value >= model.stand_of_contact.rows()) {
    throw std::invalid_argument("jack: the deck has no such stand");
  }
  if (!(lift_m >= 0.0) || !std::isfinite(lift_m)) {
    throw std::invalid_argument("jack: the lift must be finite and not negative");
  }
  const Lift lift(model, load, heights_m, scales, stand);
  JackState result;
  result.stand_N = Eigen::VectorXd::Zero(model.stand_of_contact.rows());
  result.status = lift.before().status;
  result.what = lift.before().what;
  if (result.status != ContactStatus::solved) return result;
  const ContactState state = lift.at(lift_m);
  result.status = state.status;
  result.what = state.what;
  if (result.status != ContactStatus::solved) return result;
  const double own = lift.on_stand_N(lift_m);
  result.stand_N = state.stand_N;
  result.force_N = std::max(0.0, state.stand_N(stand.value) - own);
  result.stand_N(stand.value) = own;
  result.open = state.open;
  for (const int c : lift.place()) {
    if (own == 0.0 && !has(result.open, c)) result.open.push_back(c);
  }
  std::sort(result.open.begin(), result.open.end());
  result.free_lift_m = lift.free_lift_m();
  const Lift::Event opening = lift.first_opening();
  result.most_lift_m = opening.lift_m;
  if (opening.contact >= 0) result.limited_by = print_contact(model, opening.contact);
  return result;
}

}  // namespace weighwright::statics
