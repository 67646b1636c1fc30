// barm record photo: one picture of the record, as it was kept.
#include <fmt/format.h>

#include "operations/record_fields.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/image.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string id, file, store = usual_store;
};
struct Out {
  std::string type{}, image{}, bytes{};
  std::optional<Moment> at{};
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto id = store ? take_about(findings, records::id_named(*store, {"photo"}, in.id), "id") : std::nullopt;
  const auto entry = id ? take_about(findings, store->find(*id), "id") : std::nullopt;
  if (!entry) return std::move(findings).refusal<Out>();
  if (entry->withdraws) {
    findings.refuse({"records.entry.withdrawn", "id", {{"given", in.id}}});
    return std::move(findings).refusal<Out>();
  }
  const Fields fields(*store->kinds().find("photo"), *entry);
  Out out{.image = fields.text("image"), .at = Moment{*fields.instant("at"), zone_of(*store)}};
  out.bytes = records::bytes_of(out.image).value_or("");
  out.type = records::image_type(out.bytes);
  return std::move(findings).answer(std::move(out));
}

Answer<bool> write_file(const In& in, const Out& out, const World& world, const Voice&) {
  if (in.file.empty()) return true;
  return retarget(world.write_file(in.file, out.bytes), {{"", "file"}});
}

std::string tell(const Out& out, const Voice& voice) {
  const double kilobytes = static_cast<double>(out.bytes.size()) / 1000.0;
  return voice.say("records.told.photo", {{"type", out.type}, {"given", fmt::format("{:.0f}", kilobytes)}}) + "\n";
}

}  // namespace

Operation record_photo() {
  Inputs<In> inputs;
  inputs.text("id", at(&In::id), "019f2a4e-7c00-7123-8abc-0123456789ab").required().positional();
  inputs.text("file", at(&In::file), "foam.jpg", Kind::file_written);
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.text("type", at(&Out::type)).instant("at", at(&Out::at)).text("image", at(&Out::image));
  return define<In, Out>({.noun = "record",
                          .verb = "photo",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .act = write_file,
                          .tell = tell,
                          .examples = {{"record photo 019f2a4e-7c00-7123-8abc-0123456789ab --file foam.jpg"}}});
}

}  // namespace barm::operations
