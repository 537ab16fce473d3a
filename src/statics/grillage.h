#pragma once
/// One elastic body as a grillage of exact beam elements, free of all supports.
///
/// Model   Girders along x (bending EI, torsion GJ), crossbeams along y; freedoms of a node: w up,
///         dw/dx, dw/dy. A crossbeam that does not bend is a line w = w0 + y phi (its freedoms are
///         eliminated, no large number). The free-free flexibility is exact for loads in
///         equilibrium: K^+ = Q (K + a R R')^-1 Q with the rigid motions R orthonormal and Q = I -
///         R R'; it answers up to a rigid motion, which the equilibrium of the contacts settles.
/// Source  Logan, A First Course in the Finite Element Method, eq. (5.4.17): grillage element.
/// Limits  Shear deformation and warping are left out; small displacements.

#include <Eigen/Core>
#include <vector>

#include "deck/deck.h"
#include "statics/model.h"

namespace weighwright::statics {

/// A place where a stand or a bearing touches the body.
struct Seat {
  int module = 0;    // position in the deck
  double x_m = 0.0;  // from end 1 of the deck
  double y_m = 0.0;
};

/// How a seat off the girder lines was attached.
enum class Attachment { girder, crossbeam, between_girders };

/// Freedoms f = sum of coefficient * reduced freedom; at most two terms.
struct Freedom {
  int first = -1;
  double first_factor = 0.0;
  int second = -1;
  double second_factor = 0.0;
};

/// A joint of girder and line: displacement up, dw/dx, dw/dy.
struct Node {
  Freedom w;
  Freedom slope;
  Freedom roll;
};

/// A line across one module: a crossbeam, or only nodes of the girders.
struct Line {
  double x_m = 0.0;  // from end 1 of the deck
  bool crossbeam = false;
  bool rigid = false;   // w = w0 + y phi along the line
  bool plane = false;   // besides, dw/dx is the same for all girders
  Freedom centre_w;     // w0 of a rigid line
  Freedom centre_roll;  // phi of a rigid line
  Freedom plane_slope;
  std::vector<int> nodes;  // per girder of the module
};

/// One module of the body.
struct Piece {
  int module = 0;
  double start_m = 0.0;
  double length_m = 0.0;
  double width_m = 0.0;
  std::vector<double> girders_m;  // y, ascending
  std::vector<Line> lines;        // x ascending
};

class Grillage {
 public:
  /// @pre the body's modules are the deck's own and seats lie on them within 1 mm
  /// @throws std::invalid_argument when the grillage is not stiff (a rigidity is not positive)
  Grillage(const deck::Deck& deck, const Body& body, const std::vector<Seat>& seats);

  /// Displacements of all freedoms for 1 N up at each seat, n x seats, free of rigid motion.
  [[nodiscard]] const Eigen::MatrixXd& seat_response() const { return seat_response_; }
  /// w at each seat from the freedoms, seats x n.
  [[nodiscard]] const Eigen::MatrixXd& seat_rows() const { return seat_rows_; }
  /// What crossbeams yield by themselves under seats between or outside girders, seats x seats: the
  /// flexibility of the body is seat_rows * seat_response + this.
  [[nodiscard]] const Eigen::MatrixXd& local_flexibility() const { return local_flexibility_; }
  [[nodiscard]] const std::vector<Attachment>& attachments() const { return attachments_; }
  /// True when a rigid joint joins modules of different girder lines: its line is kept plane.
  [[nodiscard]] bool has_plane_joint() const { return has_plane_joint_; }
  [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }

  /// w at a point of a module: lever rule across, exact beam shapes along. Size n.
  [[nodiscard]] Eigen::VectorXd row_at(int module, double x_m, double y_m) const;

  /// Equivalent nodal forces (down positive, size n) of a load along a module,
  /// q(s) = (even + linear * 2 s / L) N/m with s from mid-length, shared by the girders as told.
  [[nodiscard]] Eigen::VectorXd spread_load(int module,
                                            double even_N_per_m,
                                            double linear_N_per_m,
                                            const Eigen::VectorXd& share) const;
  /// Share of each girder in a load that is even across the width; sums to 1, no moment about x.
  [[nodiscard]] Eigen::VectorXd even_share(int module) const;
  /// Share of each girder in 1 N m about x; sums to 0.
  [[nodiscard]] Eigen::VectorXd roll_share(int module) const;

 private:
  Freedom new_freedom(double w, double along, double across);
  Freedom new_slope();
  int new_node(const Line& line, double y_m);
  void lay_piece(const deck::Deck& deck, int module, const std::vector<Seat>& seats);
  void mark_stiff_lines();
  void place_nodes();
  void place_line(Line& line, const Piece& piece);
  void join_line(const Line& before, Line& line, const Piece& piece);
  void add_girders(const deck::Module& module, const Piece& piece);
  void add_crossbeam(const deck::Module& module, const Piece& piece, const Line& line);
  void add_element(const std::vector<Freedom>& freedoms, const Eigen::MatrixXd& element);
  void attach_seats(const std::vector<Seat>& seats);
  [[nodiscard]] bool on_crossbeam_between(const Seat& seat) const;
  [[nodiscard]] Eigen::VectorXd crossbeam_row(const Seat& seat) const;
  void add_local_flexibility(const deck::Deck& deck, const std::vector<Seat>& seats);
  void solve_seats();
  [[nodiscard]] const Piece& piece_of(int module) const;
  [[nodiscard]] const Line* crossbeam_at(const Piece& piece, double x_m) const;

  double rotation_length_m_ = 1.0;  // a rotation is stored times this length
  double origin_m_ = 0.0;           // x of the middle of the body
  std::vector<Piece> pieces_;
  std::vector<Node> nodes_;
  std::vector<Eigen::Vector3d> motions_;  // each freedom under w = 1, w = x, w = y
  Eigen::MatrixXd stiffness_;
  Eigen::MatrixXd seat_rows_;
  Eigen::MatrixXd seat_response_;
  Eigen::MatrixXd local_flexibility_;
  std::vector<Attachment> attachments_;
  bool has_plane_joint_ = false;
};

}  // namespace weighwright::statics
