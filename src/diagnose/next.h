#pragma once
/// Which look or reading would tell the likely causes apart, by what it is expected to teach.
///
/// Gain  mutual information (nat) between the cause and the answer. A look: yes or no by its chance
///       under each cause. A reading: the figure along the direction in which the two leading
///       causes differ most (Fisher's discriminant), a normal mixture, integrated numerically.
/// Order by gain over the minutes that it costs (hand estimates, no source).
/// Source mutual information: T. Cover, J. Thomas, Elements of Information Theory, ch. 2 (from
///        memory, unverified).

#include <vector>

#include "diagnose/diagnose.h"
#include "diagnose/weighing.h"

namespace weighwright::diagnose {

[[nodiscard]] std::vector<Next> what_next(const Weighing& weighing, const statics::Model& model);

}  // namespace weighwright::diagnose
