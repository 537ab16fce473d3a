#pragma once
/// A site as the page shows it: the plan to scale, what is believed, what can be ticked.

#include "job/look.h"
#include "report/page_view.h"

namespace weighwright::job {

/// Everything but `practice`. @param looked  its view is taken over
[[nodiscard]] report::PageView page_view_of(Looked looked);

}  // namespace weighwright::job
