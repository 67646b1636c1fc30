// Kinds of entry. What came onto the beds and off them.
#include "records/kind_words.h"

namespace barm::records {

std::vector<Kind> bed_kinds() {
  return {
      {"application",
       {
           ref("bed", {"bed"}).needed(),
           ref("brew", {"brew"}).needed().after("air_on_at").shared(),
           instant("at").needed().shared(),
           number("volume", Dimension::volume, "20 L").above(0).needed(),
           number("water", Dimension::volume, "80 L").least(0),
           choice("method", {"drench", "spray", "drip"}).needed(),
           number("temperature", Dimension::temperature, "18 degC").least(-30).most(60),
           number("wind", Dimension::speed, "2 m/s").least(0),
           choice("sky", {"sun", "cloud", "rain", "night"}),
           ref("person", {"person"}).shared(),
           text("note", "after rain").shared(),
       }},
      {"harvest",
       {
           ref("bed", {"bed"}).needed(),
           instant("at").needed().shared(),
           text("crop", "lettuce"),
           number("mass", Dimension::mass, "14 kg").least(0),
           text("mark", "H-0612"),
           ref("person", {"person"}).shared(),
           text("note", "after rain").shared(),
       }},
      {"trial",
       {
           ref("garden", {"garden"}).needed().shared(),
           text("name", "Tea on lettuce").needed().shared(),
           text("question", "Do drenched beds yield more?").needed(),
           json("design", "{\"blocks\":4}"),
           date("begun_on").not_above("ended_on"),
           date("ended_on"),
           text("note", "after rain").shared(),
       }},
      {"plot",
       {
           ref("trial", {"trial"}).needed(),
           ref("bed", {"bed"}).needed(),
           text("treatment", "tea, 1 in 5").needed(),
           text("block", "1"),
           text("note", "after rain").shared(),
       }},
      {"plot_result",
       {
           ref("plot", {"plot"}).needed(),
           instant("at").needed().shared(),
           text("measure", "heads picked, kg").needed(),
           number("value", Dimension::number, "14.2").needed(),
           ref("person", {"person"}).shared(),
           text("note", "after rain").shared(),
       }},
  };
}

}  // namespace barm::records
