#include "operations/record_fields.h"

#include <algorithm>

namespace barm::operations {

std::vector<records::Entry> entries_about(records::Store& store, const records::Kind& kind, const About& about,
                                          Findings& findings) {
  std::vector<records::Entry> all;
  records::Filter filter{.field = about.field, .names = about.id};
  for (;;) {
    const auto some = findings.take(store.list(kind, filter));
    if (!some || some->empty()) break;
    all.insert(all.end(), some->begin(), some->end());
    if (static_cast<std::int64_t>(some->size()) < filter.most) break;
    filter.after = some->back().number;
  }
  if (kind.field("at") == nullptr) return all;
  std::stable_sort(all.begin(), all.end(), [&](const auto& a, const auto& b) {
    return Fields(kind, a).instant("at").value_or(0) < Fields(kind, b).instant("at").value_or(0);
  });
  return all;
}

}  // namespace barm::operations
