// Kinds of entry. What a brew is made of: compost, microbe foods, their stock.
#include "records/kind_words.h"

namespace barm::records {

std::vector<Kind> lot_kinds() {
  return {
      {"compost_lot",
       {
           ref("garden", {"garden"}).needed().shared(),
           text("name", "Spring heap").needed().shared(),
           choice("origin", {"made_here", "bought", "given"}).needed(),
           text("supplier", "Lower Farm"),
           text("feedstocks", "leaves, straw, kitchen peelings"),
           choice("animal_origin", {"none", "manure", "other", "not_known"}).needed(),
           choice("method", {"windrow", "static_aerated", "in_vessel", "static", "vermicompost", "other"}).needed(),
           date("made_on").not_above("finished_on"),
           date("finished_on"),
           number("mass", Dimension::mass, "50 kg").above(0),
           number("volume", Dimension::volume, "120 L").above(0),
           number("density", Dimension::density, "450 kg/m3").above(0),
           number("price", Dimension::number, "12").least(0),
           text("note", "after rain").shared(),
       }},
      {"heat_reading",
       {
           ref("compost_lot", {"compost_lot"}).needed().whole(),
           instant("at").needed().shared(),
           number("temperature", Dimension::temperature, "58 degC").least(-20).most(110).needed().shared(),
           text("place", "centre, 60 cm deep"),
           flag("turned"),
           ref("person", {"person"}).shared(),
           text("note", "after rain").shared(),
       }},
      {"compost_test",
       {
           ref("compost_lot", {"compost_lot"}).needed().whole(),
           instant("at").needed().shared(),
           number("moisture", Dimension::share, "50 %").least(0).most(1),
           number("ph", Dimension::number, "7.4").least(0).most(14).shared(),
           number("conductivity", Dimension::conductivity, "2 mS/cm").least(0).shared(),
           number("carbon_to_nitrogen", Dimension::number, "15").above(0),
           number("carbon_dioxide_mg_per_g_per_day", Dimension::number, "2").least(0),
           number("germination", Dimension::share, "95 %").least(0).most(2),
           choice("maturity", {"mature", "maturing", "immature"}),
           number("e_coli_mpn_per_g", Dimension::number, "3").least(0),
           number("e_coli_detection_limit_per_g", Dimension::number, "3").above(0).since(4),
           choice("salmonella", {"not_found", "found", "not_tested"}),
           number("salmonella_detection_limit_per_g", Dimension::number, "0.04").above(0).since(5),
           text("laboratory", "county laboratory").shared(),
           text("note", "after rain").shared(),
       }},
      {"food_lot",
       {
           ref("garden", {"garden"}).needed().shared(),
           text("name", "Molasses, second can").needed().shared(),
           text("food", "molasses").needed(),
           text("supplier", "feed store"),
           text("lot_mark", "B-0412"),
           date("expires_on").on_calendar(),
           number("mass", Dimension::mass, "5 kg").above(0),
           number("volume", Dimension::volume, "4 L").above(0),
           number("density", Dimension::density, "1400 kg/m3").above(0),
           number("price", Dimension::number, "9").least(0),
           text("note", "after rain").shared(),
       }},
      {"stock_change",
       {
           ref("lot", {"compost_lot", "food_lot"}).needed().whole(),
           instant("at").needed().shared(),
           number("mass", Dimension::mass, "-200 g"),
           number("volume", Dimension::volume, "-1 L"),
           choice("cause", {"counted", "spoiled", "given_away", "bought", "spread_dry"}).needed(),
           ref("person", {"person"}).shared(),
           text("note", "after rain").shared(),
       },
       {{"mass", "volume"}}},
  };
}

}  // namespace barm::records
