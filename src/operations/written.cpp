#include "operations/written.h"

#include "operations/operation.h"

namespace barm::operations {

void write_together(const std::vector<WrittenFile>& files, const World& world, Findings& findings) {
  for (const WrittenFile& file : files) {
    if (world.may_write && !world.may_write(file.name, file.content))
      findings.refuse({"records.world.taken", file.field, {{"given", file.name}}});
  }
  for (const WrittenFile& file : files) {
    if (findings.refused()) return;
    findings.take(retarget(world.write_file(file.name, file.content), {{"", file.field}}));
  }
}

}  // namespace barm::operations
