// A plan as the planner gives it, made by hand in an invented garden, so that cards can be tried without a forecast.
#pragma once

#include "cards/brew_card.h"
#include "recipe/plan.h"

namespace barm::test {

/// A 19 L bucket from Friday 1 May 2026, 21:00 in Bogotá: oxygen falls to 3 mg/L at hour 22 (0.5 to 6.3).
recipe::BrewPlan example_plan();

/// The same with twelve more foods with long names, eleven more steps, and more cautions and warnings.
recipe::BrewPlan crowded_plan();

/// A plan of which nothing is known: no forecast, no amounts, no figures.
recipe::BrewPlan blank_plan();

/// The program's words for cards, with words for the codes these plans use.
cards::Catalogue example_catalogue();

/// Bogotá's clock in a language.
cards::CardOptions example_options(cards::Language language = cards::Language::english);

}  // namespace barm::test
