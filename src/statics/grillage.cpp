#include "statics/grillage.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <utility>

#include "statics/beam.h"

namespace weighwright::statics {
namespace {

constexpr double kMerge_m = 1e-3;  // lines nearer than this are one line

bool near(double a, double b) {
  return std::abs(a - b) <= kMerge_m;
}

void add_to_row(Eigen::VectorXd& row, const Freedom& freedom, double factor) {
  if (freedom.first >= 0) row(freedom.first) += factor * freedom.first_factor;
  if (freedom.second >= 0) row(freedom.second) += factor * freedom.second_factor;
}

/// The stretch of a crossbeam on which y lies.
struct Bay {
  std::size_t girder = 0;  // at its start; of an overhang: the outermost girder
  bool overhang = false;
  double s_m = 0.0;       // from that girder, away from it
  double length_m = 0.0;  // between two girders
};

Bay bay_at(const std::vector<double>& girders_m, double y_m) {
  if (y_m < girders_m.front()) return {0, true, girders_m.front() - y_m, 0.0};
  const std::size_t last = girders_m.size() - 1;
  if (y_m > girders_m.back()) return {last, true, y_m - girders_m.back(), 0.0};
  std::size_t g = 0;
  while (g + 1 < last && girders_m[g + 1] < y_m) ++g;
  return {g, false, y_m - girders_m[g], girders_m[g + 1] - girders_m[g]};
}

bool same_girders(const std::vector<double>& a, const std::vector<double>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), near);
}

}  // namespace

Grillage::Grillage(const deck::Deck& deck, const Body& body, const std::vector<Seat>& seats) {
  for (int m = body.first_module; m <= body.last_module; ++m) lay_piece(deck, m, seats);
  std::size_t elements = 0;
  for (const Piece& piece : pieces_) elements += piece.lines.size() - 1;
  const double end_m = pieces_.back().start_m + pieces_.back().length_m;
  rotation_length_m_ = (end_m - pieces_.front().start_m) / static_cast<double>(elements);
  origin_m_ = 0.5 * (pieces_.front().start_m + end_m);
  mark_stiff_lines();
  place_nodes();
  const auto n = static_cast<Eigen::Index>(motions_.size());
  stiffness_ = Eigen::MatrixXd::Zero(n, n);
  for (const Piece& piece : pieces_) {
    const deck::Module& module = deck.modules[static_cast<std::size_t>(piece.module)];
    add_girders(module, piece);
    for (const Line& line : piece.lines) {
      if (line.crossbeam) add_crossbeam(module, piece, line);
    }
  }
  attach_seats(seats);
  add_local_flexibility(deck, seats);
  solve_seats();
}

// Lines at 0, L/(m-1), ..., L and, away from those, at seats.
void Grillage::lay_piece(const deck::Deck& deck, int module, const std::vector<Seat>& seats) {
  const deck::Module& source = deck.modules[static_cast<std::size_t>(module)];
  Piece piece;
  piece.module = module;
  piece.start_m = deck.start_m(units::ModuleIndex{module});
  piece.length_m = source.length_m;
  piece.width_m = source.width_m;
  piece.girders_m = source.girders_m;
  std::sort(piece.girders_m.begin(), piece.girders_m.end());
  const int spaces = source.crossbeams - 1;
  for (int i = 0; i <= spaces; ++i) {
    Line line;
    line.x_m =
        i == spaces ? piece.start_m + piece.length_m : piece.start_m + piece.length_m * i / spaces;
    line.crossbeam = true;
    line.rigid = std::isinf(source.crossbeam_bending_Nm2);
    piece.lines.push_back(line);
  }
  for (const Seat& seat : seats) {
    const bool known = std::any_of(piece.lines.begin(), piece.lines.end(),
                                   [&](const Line& line) { return near(line.x_m, seat.x_m); });
    if (seat.module != module || known) continue;
    Line line;
    line.x_m = seat.x_m;
    piece.lines.push_back(line);
  }
  std::sort(piece.lines.begin(), piece.lines.end(),
            [](const Line& a, const Line& b) { return a.x_m < b.x_m; });
  pieces_.push_back(std::move(piece));
}

// At a rigid joint two crossbeams are one line: rigid when either is, plane when the girders of the
// two modules do not meet.
void Grillage::mark_stiff_lines() {
  for (std::size_t i = 1; i < pieces_.size(); ++i) {
    Line& before = pieces_[i - 1].lines.back();
    Line& after = pieces_[i].lines.front();
    const bool plane = !same_girders(pieces_[i - 1].girders_m, pieces_[i].girders_m);
    before.rigid = after.rigid = before.rigid || after.rigid || plane;
    before.plane = after.plane = plane;
    has_plane_joint_ = has_plane_joint_ || plane;
  }
}

void Grillage::place_nodes() {
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    Piece& piece = pieces_[i];
    for (Line& line : piece.lines) {
      const bool joined = i > 0 && &line == &piece.lines.front();
      if (joined) {
        join_line(pieces_[i - 1].lines.back(), line, piece);
      } else {
        place_line(line, piece);
      }
    }
  }
}

void Grillage::place_line(Line& line, const Piece& piece) {
  if (line.rigid) {
    line.centre_w = new_freedom(1.0, line.x_m - origin_m_, 0.0);
    line.centre_roll = new_freedom(0.0, 0.0, rotation_length_m_);
  }
  if (line.plane) line.plane_slope = new_slope();
  for (const double y : piece.girders_m) line.nodes.push_back(new_node(line, y));
}

void Grillage::join_line(const Line& before, Line& line, const Piece& piece) {
  line.centre_w = before.centre_w;
  line.centre_roll = before.centre_roll;
  line.plane_slope = before.plane_slope;
  if (!line.plane) {
    line.nodes = before.nodes;
    return;
  }
  for (const double y : piece.girders_m) line.nodes.push_back(new_node(line, y));
}

Freedom Grillage::new_freedom(double w, double along, double across) {
  motions_.emplace_back(w, along, across);
  return {static_cast<int>(motions_.size()) - 1, 1.0, -1, 0.0};
}

Freedom Grillage::new_slope() {
  Freedom slope = new_freedom(0.0, rotation_length_m_, 0.0);
  slope.first_factor = 1.0 / rotation_length_m_;
  return slope;
}

int Grillage::new_node(const Line& line, double y_m) {
  Node node;
  if (line.rigid) {
    const double rotation = 1.0 / rotation_length_m_;
    node.w = {line.centre_w.first, 1.0, line.centre_roll.first, y_m * rotation};
    node.roll = {line.centre_roll.first, rotation, -1, 0.0};
  } else {
    node.w = new_freedom(1.0, line.x_m - origin_m_, y_m);
    node.roll = new_freedom(0.0, 0.0, rotation_length_m_);
    node.roll.first_factor = 1.0 / rotation_length_m_;
  }
  node.slope = line.plane ? line.plane_slope : new_slope();
  nodes_.push_back(node);
  return static_cast<int>(nodes_.size()) - 1;
}

void Grillage::add_element(const std::vector<Freedom>& freedoms, const Eigen::MatrixXd& element) {
  const auto add = [&](int i, int j, double value) {
    if (i >= 0 && j >= 0) stiffness_(i, j) += value;
  };
  for (std::size_t a = 0; a < freedoms.size(); ++a) {
    for (std::size_t b = 0; b < freedoms.size(); ++b) {
      const Freedom& f = freedoms[a];
      const Freedom& g = freedoms[b];
      const double k = element(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
      add(f.first, g.first, f.first_factor * k * g.first_factor);
      add(f.first, g.second, f.first_factor * k * g.second_factor);
      add(f.second, g.first, f.second_factor * k * g.first_factor);
      add(f.second, g.second, f.second_factor * k * g.second_factor);
    }
  }
}

void Grillage::add_girders(const deck::Module& module, const Piece& piece) {
  const auto girders = static_cast<double>(piece.girders_m.size());
  for (std::size_t i = 1; i < piece.lines.size(); ++i) {
    const Line& a = piece.lines[i - 1];
    const Line& b = piece.lines[i];
    const double length = b.x_m - a.x_m;
    for (std::size_t g = 0; g < piece.girders_m.size(); ++g) {
      const Node& p = nodes_[static_cast<std::size_t>(a.nodes[g])];
      const Node& q = nodes_[static_cast<std::size_t>(b.nodes[g])];
      add_element({p.w, p.slope, q.w, q.slope},
                  bending_stiffness(module.bending_Nm2 / girders, length));
      add_element({p.roll, q.roll}, torsion_stiffness(module.twisting_Nm2 / girders, length));
    }
  }
}

void Grillage::add_crossbeam(const deck::Module& module, const Piece& piece, const Line& line) {
  for (std::size_t g = 1; g < piece.girders_m.size(); ++g) {
    const Node& p = nodes_[static_cast<std::size_t>(line.nodes[g - 1])];
    const Node& q = nodes_[static_cast<std::size_t>(line.nodes[g])];
    add_element({p.slope, q.slope}, torsion_stiffness(module.crossbeam_twisting_Nm2,
                                                      piece.girders_m[g] - piece.girders_m[g - 1]));
  }
  if (line.rigid || std::isinf(module.crossbeam_bending_Nm2)) return;
  for (std::size_t g = 1; g < piece.girders_m.size(); ++g) {
    const Node& p = nodes_[static_cast<std::size_t>(line.nodes[g - 1])];
    const Node& q = nodes_[static_cast<std::size_t>(line.nodes[g])];
    add_element({p.w, p.roll, q.w, q.roll},
                bending_stiffness(module.crossbeam_bending_Nm2,
                                  piece.girders_m[g] - piece.girders_m[g - 1]));
  }
}

const Piece& Grillage::piece_of(int module) const {
  return pieces_[static_cast<std::size_t>(module - pieces_.front().module)];
}

const Line* Grillage::crossbeam_at(const Piece& piece, double x_m) const {
  const auto found = std::find_if(piece.lines.begin(), piece.lines.end(), [&](const Line& line) {
    return line.crossbeam && near(line.x_m, x_m);
  });
  return found == piece.lines.end() ? nullptr : &*found;
}

bool Grillage::on_crossbeam_between(const Seat& seat) const {
  const Piece& piece = piece_of(seat.module);
  const bool on_girder = std::any_of(piece.girders_m.begin(), piece.girders_m.end(),
                                     [&](double y) { return near(y, seat.y_m); });
  return !on_girder && crossbeam_at(piece, seat.x_m) != nullptr;
}

Eigen::VectorXd Grillage::row_at(int module, double x_m, double y_m) const {
  const Piece& piece = piece_of(module);
  std::size_t upper = 1;
  while (upper + 1 < piece.lines.size() && piece.lines[upper].x_m < x_m) ++upper;
  const Line& a = piece.lines[upper - 1];
  const Line& b = piece.lines[upper];
  const Eigen::Vector4d shapes = beam_shapes(x_m - a.x_m, b.x_m - a.x_m);
  const Eigen::VectorXd shares = lever_shares(piece.girders_m, y_m);
  Eigen::VectorXd row = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(motions_.size()));
  for (std::size_t g = 0; g < piece.girders_m.size(); ++g) {
    const double share = shares(static_cast<Eigen::Index>(g));
    if (share == 0.0) continue;
    const Node& p = nodes_[static_cast<std::size_t>(a.nodes[g])];
    const Node& q = nodes_[static_cast<std::size_t>(b.nodes[g])];
    add_to_row(row, p.w, share * shapes(0));
    add_to_row(row, p.slope, share * shapes(1));
    add_to_row(row, q.w, share * shapes(2));
    add_to_row(row, q.slope, share * shapes(3));
  }
  return row;
}

// On the crossbeam at the seat's own y; what is left to the drawing's x (at most 1 mm) goes by the
// girders' slopes, so that statics sees the place of the drawing.
Eigen::VectorXd Grillage::crossbeam_row(const Seat& seat) const {
  const Piece& piece = piece_of(seat.module);
  const Line& line = *crossbeam_at(piece, seat.x_m);
  Eigen::VectorXd row = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(motions_.size()));
  if (line.rigid) {
    add_to_row(row, line.centre_w, 1.0);
    add_to_row(row, line.centre_roll, seat.y_m / rotation_length_m_);
  } else {
    const Bay bay = bay_at(piece.girders_m, seat.y_m);
    const Node& p = nodes_[static_cast<std::size_t>(line.nodes[bay.girder])];
    if (bay.overhang) {
      add_to_row(row, p.w, 1.0);
      add_to_row(row, p.roll, seat.y_m - piece.girders_m[bay.girder]);
    } else {
      const Node& q = nodes_[static_cast<std::size_t>(line.nodes[bay.girder + 1])];
      const Eigen::Vector4d shapes = beam_shapes(bay.s_m, bay.length_m);
      add_to_row(row, p.w, shapes(0));
      add_to_row(row, p.roll, shapes(1));
      add_to_row(row, q.w, shapes(2));
      add_to_row(row, q.roll, shapes(3));
    }
  }
  const Eigen::VectorXd shares = lever_shares(piece.girders_m, seat.y_m);
  for (std::size_t g = 0; g < piece.girders_m.size(); ++g) {
    add_to_row(row, nodes_[static_cast<std::size_t>(line.nodes[g])].slope,
               shares(static_cast<Eigen::Index>(g)) * (seat.x_m - line.x_m));
  }
  return row;
}

void Grillage::attach_seats(const std::vector<Seat>& seats) {
  const auto n = static_cast<Eigen::Index>(motions_.size());
  seat_rows_.resize(static_cast<Eigen::Index>(seats.size()), n);
  for (std::size_t i = 0; i < seats.size(); ++i) {
    const Seat& seat = seats[i];
    const Piece& piece = piece_of(seat.module);
    const bool on_girder = std::any_of(piece.girders_m.begin(), piece.girders_m.end(),
                                       [&](double y) { return near(y, seat.y_m); });
    const bool between = on_crossbeam_between(seat);
    seat_rows_.row(static_cast<Eigen::Index>(i)) =
        between ? crossbeam_row(seat) : row_at(seat.module, seat.x_m, seat.y_m);
    attachments_.push_back(between     ? Attachment::crossbeam
                           : on_girder ? Attachment::girder
                                       : Attachment::between_girders);
  }
}

// Seats make no nodes on crossbeams: a force between girders acts on them by its fixed-end forces
// and bends the clamped piece besides. Exact, and well conditioned however near to a girder it is.
void Grillage::add_local_flexibility(const deck::Deck& deck, const std::vector<Seat>& seats) {
  const auto n = static_cast<Eigen::Index>(seats.size());
  local_flexibility_ = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Seat& a = seats[static_cast<std::size_t>(i)];
    if (!on_crossbeam_between(a)) continue;
    const Piece& piece = piece_of(a.module);
    const Line* line = crossbeam_at(piece, a.x_m);
    if (line->rigid) continue;
    const double bending = deck.modules[static_cast<std::size_t>(a.module)].crossbeam_bending_Nm2;
    const Bay here = bay_at(piece.girders_m, a.y_m);
    for (Eigen::Index j = 0; j < n; ++j) {
      const Seat& b = seats[static_cast<std::size_t>(j)];
      if (b.module != a.module || !on_crossbeam_between(b)) continue;
      const Bay there = bay_at(piece.girders_m, b.y_m);
      if (crossbeam_at(piece, b.x_m) != line || here.girder != there.girder ||
          here.overhang != there.overhang) {
        continue;
      }
      local_flexibility_(i, j) =
          (here.overhang ? cantilever_deflection(here.s_m, there.s_m)
                         : clamped_deflection(here.s_m, there.s_m, here.length_m)) /
          bending;
    }
  }
}

void Grillage::solve_seats() {
  const auto n = static_cast<Eigen::Index>(motions_.size());
  Eigen::MatrixXd rigid(n, 3);
  for (Eigen::Index i = 0; i < n; ++i) rigid.row(i) = motions_[static_cast<std::size_t>(i)];
  const Eigen::MatrixXd r =
      Eigen::HouseholderQR<Eigen::MatrixXd>(rigid).householderQ() * Eigen::MatrixXd::Identity(n, 3);
  const auto project = [&](Eigen::MatrixXd& m) { m -= r * (r.transpose() * m); };
  // As stiff against rigid motion as against bending, on the average.
  const double alpha = stiffness_.trace() / static_cast<double>(n);
  Eigen::MatrixXd held = stiffness_;
  held += alpha * r * r.transpose();
  const Eigen::LLT<Eigen::MatrixXd> factor(held);
  if (factor.info() != Eigen::Success) {
    throw std::invalid_argument("Grillage: module " + std::to_string(pieces_.front().module + 1) +
                                " is not stiff; bending, twisting and crossbeam bending must be "
                                "positive and finite");
  }
  Eigen::MatrixXd load = seat_rows_.transpose();
  project(load);
  seat_response_ = factor.solve(load);
  project(seat_response_);
  stiffness_.resize(0, 0);
}

Eigen::VectorXd Grillage::spread_load(int module,
                                      double even_N_per_m,
                                      double linear_N_per_m,
                                      const Eigen::VectorXd& share) const {
  // Gauss points of three: exact to degree 5, load times shape has degree 4.
  static constexpr std::array<double, 3> kPoint = {-0.77459666924148337704, 0.0,
                                                   0.77459666924148337704};
  static constexpr std::array<double, 3> kWeight = {5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0};
  const Piece& piece = piece_of(module);
  Eigen::VectorXd force = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(motions_.size()));
  const double middle = piece.start_m + 0.5 * piece.length_m;
  for (std::size_t i = 1; i < piece.lines.size(); ++i) {
    const Line& a = piece.lines[i - 1];
    const Line& b = piece.lines[i];
    const double length = b.x_m - a.x_m;
    Eigen::Vector4d nodal = Eigen::Vector4d::Zero();
    for (std::size_t p = 0; p < kPoint.size(); ++p) {
      const double s = 0.5 * length * (1.0 + kPoint[p]);
      const double q = even_N_per_m + linear_N_per_m * 2.0 * (a.x_m + s - middle) / piece.length_m;
      nodal += 0.5 * length * kWeight[p] * q * beam_shapes(s, length);
    }
    for (std::size_t g = 0; g < piece.girders_m.size(); ++g) {
      const double part = share(static_cast<Eigen::Index>(g));
      const Node& left = nodes_[static_cast<std::size_t>(a.nodes[g])];
      const Node& right = nodes_[static_cast<std::size_t>(b.nodes[g])];
      add_to_row(force, left.w, part * nodal(0));
      add_to_row(force, left.slope, part * nodal(1));
      add_to_row(force, right.w, part * nodal(2));
      add_to_row(force, right.slope, part * nodal(3));
    }
  }
  return force;
}

Eigen::VectorXd Grillage::even_share(int module) const {
  const Piece& piece = piece_of(module);
  return spread_shares(piece.girders_m, piece.width_m);
}

Eigen::VectorXd Grillage::roll_share(int module) const {
  const std::vector<double>& girders = piece_of(module).girders_m;
  const Eigen::VectorXd y =
      Eigen::Map<const Eigen::VectorXd>(girders.data(), static_cast<Eigen::Index>(girders.size()));
  const Eigen::VectorXd arm = y.array() - y.mean();
  return arm / arm.dot(y);
}

}  // namespace weighwright::statics
