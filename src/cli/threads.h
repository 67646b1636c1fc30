// Jobs shared out over the machine's cores.
#pragma once

#include <functional>

namespace barm::cli {

/// Does job 0 to count - 1 on as many threads as there are cores, and comes back when all are done. The first exception
/// of a job is thrown again here.
void on_all_cores(int count, const std::function<void(int)>& job);

}  // namespace barm::cli
