// The pieces of a printed brew card, each laid down in its column.
#pragma once

#include <string>
#include <vector>

#include "cards/brew_card.h"
#include "cards/page_column.h"

namespace barm::cards {

/// What fails (left) beside what would mend it (right), or either across the page; gives the height.
double warnings_and_mends(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                          std::vector<Box>* boxes);
/// The picture in sentences, beside it in figures and what will live in the brew; gives the height.
double under_picture(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                     std::vector<Box>* boxes);
void amounts(Column& column, const BrewCard& card);
void clearing(Column& column, const BrewCard& card);
void air(Column& column, const BrewCard& card);
void steps(Column& column, const BrewCard& card);
void cautions(Column& column, const BrewCard& card);
/// Cautions across the page, in two columns that hold half of the lines each; gives the height.
double cautions_below(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                      std::vector<Box>* boxes);
/// Sources at the foot, and that the card was shortened when it was.
void foot(Column& column, const BrewCard& card);

}  // namespace barm::cards
