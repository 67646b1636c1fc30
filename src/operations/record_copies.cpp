// barm record verify, backup and restore.
#include <cctype>

#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/backup.h"
#include "records/verify.h"

namespace barm::operations {
namespace {

struct In {
  std::string file, head, store = usual_store;
};
struct Out {
  std::int64_t entries_count = 0, seals_count = 0;
  std::string head{}, file{};
};

/// A hash as it was noted, perhaps by hand: blanks and capitals do not matter. Refuses what is not 64 hex digits.
std::string noted_hash(const std::string& noted, Findings& findings) {
  constexpr std::size_t digits_count = 64;  // SHA-256
  std::string hash;
  for (const char c : noted) {
    if (!std::isspace(static_cast<unsigned char>(c)))
      hash += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  const bool is_hex = hash.find_first_not_of("0123456789abcdef") == std::string::npos;
  if (!hash.empty() && (!is_hex || hash.size() != digits_count))
    findings.refuse({"records.verify.not_a_hash",
                     "head",
                     {{"given", noted.substr(0, 80)},
                      {"found", std::to_string(hash.size())},
                      {"allowed", std::to_string(digits_count)}}});
  return hash;
}

Answer<Out> verify(const In& in, const World& world) {
  Findings findings;
  const auto noted = noted_hash(in.head, findings);
  if (findings.refused()) return std::move(findings).refusal<Out>();
  auto store = findings.take(open_store(in.store, world));
  const auto verified = store ? findings.take(records::verify(*store, noted)) : std::nullopt;
  if (!verified) return std::move(findings).refusal<Out>();
  for (const auto& fault : verified->faults) findings.refuse(fault);
  return std::move(findings).answer(Out{verified->entries_count, verified->seals_count, verified->head, {}});
}

Answer<Out> backup(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto done = store ? findings.take(records::back_up(*store, in.file)) : std::nullopt;
  if (!done) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{done->entries_count, 0, done->head, in.file});
}

Answer<Out> restore(const In& in, const World& world) {
  Findings findings;
  expects(world.now != nullptr, "a world with a record has a clock");
  const auto done = findings.take(
      retarget(records::restore(in.file, {in.store}, records::all_kinds(), world.now()), {{"from", "file"}}));
  if (!done) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{done->entries_count, 0, done->head, in.store});
}

std::string tell_verified(const Out& out, const Voice& voice) {
  return voice.say("records.told.whole", {{"given", std::to_string(out.entries_count)}, {"head", out.head}}) + "\n";
}
std::string tell_copied(const Out& out, const Voice& voice) {
  return voice.say("records.told.copied",
                   {{"given", std::to_string(out.entries_count)}, {"file", out.file}, {"head", out.head}}) +
         "\n";
}

Outputs<Out> copied() {
  Outputs<Out> outputs;
  outputs.whole("entries_count", at(&Out::entries_count)).text("head", at(&Out::head)).text("file", at(&Out::file));
  return outputs;
}

}  // namespace

Operation record_verify() {
  Inputs<In> inputs;
  inputs.text("head", at(&In::head), "7d865e959b2466918c9863afca942d0fb89d7c9ac0c99bafc3749504ded97730");
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.whole("entries_count", at(&Out::entries_count))
      .whole("seals_count", at(&Out::seals_count))
      .text("head", at(&Out::head));
  return define<In, Out>({.noun = "record",
                          .verb = "verify",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = verify,
                          .tell = tell_verified,
                          .examples = {{"record verify"}}});
}

Operation record_backup() {
  Inputs<In> inputs;
  inputs.text("file", at(&In::file), "backup-2026-05.sqlite", Kind::file_written).required().positional();
  store_input(inputs, &In::store);
  return define<In, Out>({.noun = "record",
                          .verb = "backup",
                          .inputs = inputs,
                          .outputs = copied(),
                          .answer = backup,
                          .tell = tell_copied,
                          .examples = {{"record backup backup-2026-05.sqlite"}}});
}

Operation record_restore() {
  Inputs<In> inputs;
  inputs.text("file", at(&In::file), "backup-2026-05.sqlite", Kind::file_read).required().positional();
  store_input(inputs, &In::store);
  return define<In, Out>({.noun = "record",
                          .verb = "restore",
                          .inputs = inputs,
                          .outputs = copied(),
                          .answer = restore,
                          .tell = tell_copied,
                          .examples = {{"record restore backup-2026-05.sqlite --store garden-record.sqlite"}},
                          .at_hand_only = true});
}

}  // namespace barm::operations
