#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "benchmarks/brew/ours.h"
#include "brew/brews.h"
#include "brew/ensemble.h"

namespace barm::bench {

double peak_mib(int member_count, Keep keep) {
  const pid_t child = fork();
  if (child == 0) {
    if (keep == Keep::everything) {
      brew::Members members = bucket_members(member_count, 1);
      const auto stretch = brew::run(members, 0.0, horizon_h, {}, output_hours());
      _exit(stretch.report.failed_member_count == 0 ? 0 : 1);
    }
    const auto told = brew::forecast(test::bucket(), test::priors(), {.members_count = member_count});
    _exit(told.ok() && told.value().failed_members_count == 0 ? 0 : 1);
  }
  int status = 1;
  rusage used{};
  wait4(child, &status, 0, &used);
  return status == 0 ? static_cast<double>(used.ru_maxrss) / 1024.0 : -1.0;
}

}  // namespace barm::bench
