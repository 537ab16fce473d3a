#include "statics/model.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <utility>

#include "statics/contact.h"
#include "statics/equilibrium.h"
#include "statics/grillages.h"
#include "statics/standing.h"
#include "units/quantity.h"

namespace weighwright::statics {
namespace {

constexpr double kMerge_m = 1e-3;
constexpr double kAsymmetry = 1e-12;  // rounding of a symmetric body's mixed flexibility

int count_of(const auto& container) {
  return static_cast<int>(container.size());
}

std::vector<Body> join_bodies(const deck::Deck& deck) {
  std::vector<Body> bodies = {{0, 0}};
  for (int i = 0; i < count_of(deck.joints); ++i) {
    if (deck.joints[static_cast<std::size_t>(i)].kind == deck::JointKind::rigid) {
      bodies.back().last_module = i + 1;
    } else {
      bodies.push_back({i + 1, i + 1});
    }
  }
  return bodies;
}

std::vector<int> bodies_of_modules(const std::vector<Body>& bodies) {
  std::vector<int> body_of;
  for (int b = 0; b < count_of(bodies); ++b) {
    const Body& body = bodies[static_cast<std::size_t>(b)];
    for (int m = body.first_module; m <= body.last_module; ++m) body_of.push_back(b);
  }
  return body_of;
}

// Joint on whose line the section's stands are shared, -1: none.
int shared_joint(const deck::Deck& deck, const deck::Section& section) {
  for (int i = 0; i < count_of(deck.joints); ++i) {
    if (deck.joints[static_cast<std::size_t>(i)].kind == deck::JointKind::shared_stand &&
        std::abs(section.at_m - deck.joint_m(i)) <= kMerge_m) {
      return i;
    }
  }
  return -1;
}

/// Contacts with the modules whose seats they are.
struct Layout {
  std::vector<Contact> contacts;
  std::vector<int> partner;
  std::vector<int> upper_module;  // that presses, per contact
  std::vector<int> lower_module;  // that carries, -1: the ground

  void add(const Contact& contact, int upper, int lower) {
    contacts.push_back(contact);
    upper_module.push_back(upper);
    lower_module.push_back(lower);
  }
};

void add_section(const deck::Deck& deck,
                 int index,
                 const std::vector<int>& body_of,
                 Layout& layout) {
  const deck::Section& section = deck.sections[static_cast<std::size_t>(index)];
  const int joint = shared_joint(deck, section);
  std::vector<int> modules = {section.module.value};
  if (joint >= 0) modules = {joint, joint + 1};
  const int each = count_of(modules);
  for (const units::Side side : {units::Side::left, units::Side::right}) {
    for (const int module : modules) {
      Contact contact;
      contact.stand = units::StandIndex::of(units::SectionIndex{index}, side);
      contact.joint = joint;
      contact.side = side;
      contact.x_m = section.at_m;
      contact.y_m = deck.stand_y_m(contact.stand);
      contact.above = body_of[static_cast<std::size_t>(module)];
      const int here = count_of(layout.contacts);
      layout.partner.push_back(side == units::Side::left ? here + each : here - each);
      layout.add(contact, module, -1);
    }
  }
}

void add_joint(const deck::Deck& deck,
               int joint,
               units::ModuleIndex resting,
               const std::vector<int>& body_of,
               Layout& layout) {
  const double half = 0.5 * deck.joints[static_cast<std::size_t>(joint)].across_m;
  const int upper = resting.value;
  const int lower = upper == joint ? joint + 1 : joint;
  for (const units::Side side : {units::Side::left, units::Side::right}) {
    Contact contact;
    contact.is_bearing = true;
    contact.joint = joint;
    contact.side = side;
    contact.x_m = deck.joint_m(joint);
    contact.y_m = side == units::Side::left ? half : -half;
    contact.above = body_of[static_cast<std::size_t>(upper)];
    contact.below = body_of[static_cast<std::size_t>(lower)];
    const int here = count_of(layout.contacts);
    layout.partner.push_back(side == units::Side::left ? here + 1 : here - 1);
    layout.add(contact, upper, lower);
  }
}

Layout lay_out(const deck::Deck& deck,
               const std::vector<int>& body_of,
               const std::vector<units::ModuleIndex>& resting) {
  Layout layout;
  for (int i = 0; i < count_of(deck.sections); ++i) add_section(deck, i, body_of, layout);
  for (int i = 0; i < count_of(deck.joints); ++i) {
    if (deck.joints[static_cast<std::size_t>(i)].kind != deck::JointKind::hinge) continue;
    add_joint(deck, i, resting[static_cast<std::size_t>(i)], body_of, layout);
  }
  return layout;
}

std::shared_ptr<Model::Grillages> make_grillages(const deck::Deck& deck,
                                                 const std::vector<Body>& bodies,
                                                 const Layout& layout) {
  auto grillages = std::make_shared<Model::Grillages>();
  grillages->body_of_module = bodies_of_modules(bodies);
  grillages->partner = layout.partner;
  for (int m = 0; m < count_of(deck.modules); ++m) {
    const deck::Module& module = deck.modules[static_cast<std::size_t>(m)];
    grillages->marks.push_back(module.mark);
    grillages->starts_m.push_back(deck.start_m(units::ModuleIndex{m}));
    grillages->widths_m.push_back(module.width_m);
  }
  grillages->starts_m.push_back(deck.length_m());
  for (int b = 0; b < count_of(bodies); ++b) {
    std::vector<Seat> seats;
    std::vector<Grip> grips;
    for (int c = 0; c < count_of(layout.contacts); ++c) {
      const auto at = static_cast<std::size_t>(c);
      const Contact& contact = layout.contacts[at];
      if (contact.above == b) {
        seats.push_back({layout.upper_module[at], contact.x_m, contact.y_m});
        grips.push_back({c, 1.0});
      } else if (contact.below == b) {
        seats.push_back({layout.lower_module[at], contact.x_m, contact.y_m});
        grips.push_back({c, -1.0});
      }
    }
    grillages->bodies.emplace_back(deck, bodies[static_cast<std::size_t>(b)], seats);
    grillages->grips.push_back(std::move(grips));
  }
  return grillages;
}

Eigen::MatrixXd body_flexibility(const Model& model, std::size_t body) {
  const Grillage& grillage = model.grillages->bodies[body];
  const std::vector<Grip>& grips = model.grillages->grips[body];
  const Eigen::MatrixXd seats =
      grillage.seat_rows() * grillage.seat_response() + grillage.local_flexibility();
  Eigen::MatrixXd phi = Eigen::MatrixXd::Zero(model.contact_count(), model.contact_count());
  for (std::size_t i = 0; i < grips.size(); ++i) {
    for (std::size_t j = 0; j < grips.size(); ++j) {
      const auto a = static_cast<Eigen::Index>(i);
      const auto b = static_cast<Eigen::Index>(j);
      phi(grips[i].contact, grips[j].contact) =
          grips[i].sign * grips[j].sign * 0.5 * (seats(a, b) + seats(b, a));
    }
  }
  return phi;
}

void split_flexibility(Model& model) {
  model.twist_flexibility.clear();
  model.bend_flexibility.clear();
  model.cross_flexibility.clear();
  for (std::size_t b = 0; b < model.bodies.size(); ++b) {
    const Eigen::MatrixXd phi = body_flexibility(model, b);
    const Eigen::Index m = phi.rows();
    Eigen::MatrixXd image(m, m);
    Eigen::MatrixXd one_side(m, m);
    for (Eigen::Index i = 0; i < m; ++i) {
      const int pi = model.grillages->partner[static_cast<std::size_t>(i)];
      for (Eigen::Index j = 0; j < m; ++j) {
        const int pj = model.grillages->partner[static_cast<std::size_t>(j)];
        image(i, j) = phi(pi, pj);
        one_side(i, j) = 0.5 * (phi(pi, j) + phi(i, pj));
      }
    }
    const Eigen::MatrixXd even = 0.5 * (phi + image);
    model.bend_flexibility.emplace_back(0.5 * (even + one_side));
    model.twist_flexibility.emplace_back(0.5 * (even - one_side));
    Eigen::MatrixXd cross = 0.5 * (phi - image);
    if (m > 0 && cross.cwiseAbs().maxCoeff() <= kAsymmetry * phi.cwiseAbs().maxCoeff()) {
      cross.setZero();
    }
    model.cross_flexibility.push_back(cross);
  }
}

void place_stands(const deck::Deck& deck, Model& model) {
  const Eigen::Index m = model.contact_count();
  const Eigen::Index s = deck.stand_count();
  model.stand_of_contact = Eigen::MatrixXd::Zero(s, m);
  for (int c = 0; c < model.contact_count(); ++c) {
    const Contact& contact = model.contacts[static_cast<std::size_t>(c)];
    if (!contact.is_bearing) model.stand_of_contact(contact.stand.value, c) = 1.0;
  }
  Eigen::VectorXd compliance(s);
  for (Eigen::Index i = 0; i < s; ++i) {
    const deck::Stand& stand = deck.stands[static_cast<std::size_t>(i)];
    compliance(i) =
        stand.cell.deflection_m / (stand.cell.capacity_kg * units::kStandardGravity_m_per_s2) +
        1.0 / stand.foundation_N_per_m;
  }
  model.stand_stiffness_N_per_m = compliance.cwiseInverse();
  model.stand_flexibility =
      model.stand_of_contact.transpose() * compliance.asDiagonal() * model.stand_of_contact;
}

void weigh(const deck::Deck& deck, Model& model) {
  model.dead = no_load(model);
  for (int m = 0; m < count_of(deck.modules); ++m) {
    const deck::Module& module = deck.modules[static_cast<std::size_t>(m)];
    const double length = module.length_m;
    const double middle = deck.start_m(units::ModuleIndex{m}) + 0.5 * length;
    const int body = model.grillages->body_of_module[static_cast<std::size_t>(m)];
    const Grillage& grillage = model.grillages->bodies[static_cast<std::size_t>(body)];
    const Eigen::VectorXd even = grillage.even_share(m);
    const auto spread = [&](double q, double linear, const Eigen::VectorXd& share,
                            const Eigen::Vector3d& resultant) {
      return condense(model, body, grillage.spread_load(m, q, linear, share), resultant);
    };
    model.unit_weight.push_back(spread(1.0 / length, 0.0, even, {1.0, middle, 0.0}));
    // A slope of q from -6/L2 to 6/L2 has no sum and the moment 1.
    model.unit_pitch.push_back(spread(0.0, 6.0 / (length * length), even, {0.0, 1.0, 0.0}));
    model.unit_roll.push_back(spread(1.0 / length, 0.0, grillage.roll_share(m), {0.0, 0.0, 1.0}));
    const double weight = module.mass_kg * deck.site.gravity_m_per_s2;
    const double off_centre = module.centre_m - 0.5 * length;
    model.dead = add(model.dead, scale(model.unit_weight.back(), weight));
    model.dead = add(model.dead, scale(model.unit_pitch.back(), weight * off_centre));
  }
}

/// Everything but what needs every body to be held.
Model assemble(const deck::Deck& deck, const std::vector<units::ModuleIndex>& resting) {
  Model model;
  model.bodies = join_bodies(deck);
  model.resting = resting;
  const Layout layout = lay_out(deck, bodies_of_modules(model.bodies), resting);
  model.contacts = layout.contacts;
  model.grillages = make_grillages(deck, model.bodies, layout);
  model.equilibrium = equilibrium_matrix(model.contacts, count_of(model.bodies));
  place_stands(deck, model);
  split_flexibility(model);
  weigh(deck, model);
  return model;
}

void solve_statics(Model& model, const Eigen::MatrixXd& scaling) {
  model.particular = particular_forces(model.equilibrium, scaling);
  model.redundants = redundant_forces(model.equilibrium, scaling, model.stand_of_contact);
}

// Contact forces as if everything could pull, all stands at height 0.
Eigen::VectorXd forces_of_glued_deck(const Model& model, const LoadCase& load) {
  Eigen::VectorXd forces = model.particular * load.resultant;
  if (model.redundant_count() == 0) return forces;
  const Eigen::MatrixXd phi = flexibility(model, nominal(model));
  const Eigen::MatrixXd& n = model.redundants;
  const Eigen::LLT<Eigen::MatrixXd> factor(n.transpose() * phi * n);
  const Eigen::VectorXd drive = n.transpose() * (load.free_m + phi * forces);
  return forces - n * factor.solve(drive);
}

std::string joint_name(const Model& model, int joint) {
  const std::vector<std::string>& marks = model.grillages->marks;
  return marks[static_cast<std::size_t>(joint)] + "-" + marks[static_cast<std::size_t>(joint) + 1];
}

// Which module presses down where nobody said: the sign of the joint's force under dead load.
std::vector<units::ModuleIndex> find_resting(const deck::Deck& deck,
                                             const Model& model,
                                             BuiltModel& built) {
  std::vector<units::ModuleIndex> resting = model.resting;
  const Eigen::VectorXd forces = forces_of_glued_deck(model, model.dead);
  const double noise = 1e-6 * forces.cwiseAbs().maxCoeff();
  for (int c = 0; c < model.contact_count(); ++c) {
    const Contact& contact = model.contacts[static_cast<std::size_t>(c)];
    const auto joint = static_cast<std::size_t>(contact.joint);
    if (!contact.is_bearing || contact.side == units::Side::right) continue;
    if (deck.joints[joint].resting) continue;
    const double press = forces(c) + forces(c + 1);  // left and right are neighbours
    const std::string name = joint_name(model, contact.joint);
    if (!(std::abs(press) > noise)) {
      built.faults.push_back({"", 0, 0,
                              "joint " + name +
                                  " carries nothing under dead load, so it does not show which "
                                  "module rests on the other",
                              "rests = \"" + deck.modules[joint].mark + " on " +
                                  deck.modules[joint + 1].mark + "\", or the other way round"});
      continue;
    }
    const int upper = press > 0.0 ? contact.joint : contact.joint + 1;
    const int lower = 2 * contact.joint + 1 - upper;
    resting[joint] = units::ModuleIndex{upper};
    built.assumed.push_back(
        {"joint " + name + ".rests", deck.modules[static_cast<std::size_t>(upper)].mark + " on " +
                                         deck.modules[static_cast<std::size_t>(lower)].mark +
                                         " (found by statics: it presses down under dead load)"});
  }
  return resting;
}

void tell_attachments(const Model& model, BuiltModel& built) {
  for (std::size_t b = 0; b < model.bodies.size(); ++b) {
    const Grillage& grillage = model.grillages->bodies[b];
    const std::vector<Grip>& grips = model.grillages->grips[b];
    for (std::size_t i = 0; i < grips.size(); ++i) {
      if (grillage.attachments()[i] != Attachment::between_girders) continue;
      built.assumed.push_back({print_contact(model, grips[i].contact),
                               "off the girder lines and not at a crossbeam: held by the nearest "
                               "two girders by the lever rule"});
    }
    if (grillage.has_plane_joint()) {
      built.assumed.push_back({print_body(model, static_cast<int>(b)),
                               "rigid joints between different girder lines stay plane"});
    }
  }
}

void check_stiffness(const Model& model, BuiltModel& built) {
  if (model.redundant_count() == 0) return;
  const Eigen::MatrixXd& n = model.redundants;
  const Eigen::LLT<Eigen::MatrixXd> factor(n.transpose() * flexibility(model, nominal(model)) * n);
  if (factor.info() == Eigen::Success) return;
  built.faults.push_back({"", 0, 0,
                          "the deck and its stands do not yield, so that statics can not tell how "
                          "its weight divides",
                          "a cell deflection or foundation that yields"});
}

}  // namespace

BuiltModel build_model(const deck::Deck& deck) {
  BuiltModel built;
  built.faults = check_shape(deck);
  if (!built.faults.empty()) return built;
  std::vector<units::ModuleIndex> resting;
  bool told = true;
  for (int i = 0; i < count_of(deck.joints); ++i) {
    const deck::Joint& joint = deck.joints[static_cast<std::size_t>(i)];
    resting.push_back(joint.resting.value_or(units::ModuleIndex{i}));
    told = told && (joint.kind != deck::JointKind::hinge || joint.resting);
  }
  Model model = assemble(deck, resting);
  const Eigen::MatrixXd scaling = equilibrium_scaling(model.contacts, count_of(model.bodies));
  built.faults = check_held(model, model.equilibrium, scaling);
  if (!built.faults.empty()) return built;
  solve_statics(model, scaling);
  if (!told) {
    resting = find_resting(deck, model, built);
    if (!built.faults.empty()) return built;
    model = assemble(deck, resting);
    solve_statics(model, scaling);
  }
  check_stiffness(model, built);
  const std::string pull = explain_pull(model, model.dead.resultant);
  if (!pull.empty()) {
    built.faults.push_back({"", 0, 0, pull, "a deck that stands by its own weight"});
  }
  if (!built.faults.empty()) return built;
  tell_attachments(model, built);
  built.model = std::move(model);
  return built;
}

Scales nominal(const Model& model) {
  const auto bodies = static_cast<Eigen::Index>(model.bodies.size());
  return {Eigen::VectorXd::Ones(bodies), Eigen::VectorXd::Ones(bodies)};
}

Eigen::MatrixXd flexibility(const Model& model, const Scales& scales) {
  const auto bodies = static_cast<Eigen::Index>(model.bodies.size());
  const auto good = [&](const Eigen::VectorXd& v) {
    return v.size() == bodies && v.allFinite() && (v.array() > 0.0).all();
  };
  if (!good(scales.twist) || !good(scales.bend)) {
    throw std::invalid_argument("flexibility: scales must have one positive entry per body");
  }
  Eigen::MatrixXd phi = model.stand_flexibility;
  for (Eigen::Index i = 0; i < bodies; ++i) {
    const auto b = static_cast<std::size_t>(i);
    phi += model.twist_flexibility[b] / scales.twist(i) +
           model.bend_flexibility[b] / scales.bend(i) +
           model.cross_flexibility[b] / std::sqrt(scales.twist(i) * scales.bend(i));
  }
  return phi;
}

std::string print_body(const Model& model, int body) {
  const Body& b = model.bodies[static_cast<std::size_t>(body)];
  const std::vector<std::string>& marks = model.grillages->marks;
  const std::string& first = marks[static_cast<std::size_t>(b.first_module)];
  if (b.first_module == b.last_module) return "module " + first;
  return "modules " + first + " to " + marks[static_cast<std::size_t>(b.last_module)];
}

std::string print_contact(const Model& model, int contact) {
  const Contact& c = model.contacts.at(static_cast<std::size_t>(contact));
  if (c.is_bearing) {
    return "bearing " + joint_name(model, c.joint) + " " + std::string(units::print(c.side));
  }
  const std::string stand = units::print(c.stand);
  return c.joint < 0 ? stand : stand + " of " + print_body(model, c.above);
}

}  // namespace weighwright::statics
