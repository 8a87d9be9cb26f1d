// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of rules/exercises/ as they stand there.
#include "reason.h"

#include <math.h>

static void give_needs(why_giver* giver, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->needs.count; i++) {
    const why_needs* needs = &exercise->needs.at[i];
    WHY_GIVE(giver, "option", needs->place, WHY_SYM(exercise->id), WHY_NUM((double)i + 1));
    for (size_t j = 0; j < needs->items.count; j++)
      WHY_GIVE(giver, "option-needs", needs->place, WHY_SYM(exercise->id), WHY_NUM((double)i + 1),
               WHY_SYM(needs->items.at[j]));
  }
}

/// Sum of the usual loads of one kind, for the body mass that the catalogue is written for, kg.
static double usual_kg(const why_giver* giver, const why_exercise* exercise, const char* kind) {
  static const double BODY_KG = 75;
  why_symbol wanted = why_symbols_find(giver->symbols, kind);
  double masses = 0;
  for (size_t i = 0; i < exercise->resistances.count; i++) {
    const why_resistance* each = &exercise->resistances.at[i];
    if (each->kind == wanted && isfinite(each->body_masses))
      masses += each->body_masses;
  }
  return masses * BODY_KG;
}

static void give_load(why_giver* giver, const why_exercise* exercise) {
  double free = usual_kg(giver, exercise, "mass");
  double weight = free + usual_kg(giver, exercise, "sled");
  if (free > 0)
    WHY_GIVE(giver, "usual-load", exercise->place, WHY_SYM(exercise->id), WHY_NUM(free));
  if (weight > 0)
    WHY_GIVE(giver, "usual-weight", exercise->place, WHY_SYM(exercise->id), WHY_NUM(weight));
  for (size_t i = 0; i < exercise->resistances.count; i++)
    WHY_GIVE(giver, "resisted-by", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->resistances.at[i].kind));
}

/// Either of two exercises may name the other: both ways are one fact.
static void give_forms(why_giver* giver, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->easier.count; i++)
    WHY_GIVE(giver, "easier", exercise->place, WHY_SYM(exercise->easier.at[i]),
             WHY_SYM(exercise->id));
  for (size_t i = 0; i < exercise->harder.count; i++)
    WHY_GIVE(giver, "easier", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->harder.at[i]));
}

static void give_plain(why_giver* giver, const why_exercise* exercise) {
  WHY_GIVE(giver, "exercise", exercise->place, WHY_SYM(exercise->id), WHY_SYM(exercise->pattern));
  WHY_GIVE(giver, "quality", exercise->place, WHY_SYM(exercise->id), WHY_SYM(exercise->skill),
           WHY_SYM(exercise->stability), WHY_SYM(exercise->axial_load),
           WHY_SYM(exercise->loading_steps));
  if (exercise->movement)
    WHY_GIVE(giver, "movement", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->movement));
  if (exercise->unilateral)
    WHY_GIVE(giver, "one-sided", exercise->place, WHY_SYM(exercise->id));
  if (exercise->held)
    WHY_GIVE(giver, "held", exercise->place, WHY_SYM(exercise->id));
  for (size_t i = 0; i < exercise->moves.count; i++)
    WHY_GIVE(giver, "moves", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->moves.at[i]));
  for (size_t i = 0; i < exercise->restricted.count; i++)
    WHY_GIVE(giver, "asks-of-person", exercise->place, WHY_SYM(exercise->id),
             WHY_SYM(exercise->restricted.at[i]));
  give_needs(giver, exercise);
  give_forms(giver, exercise);
  give_load(giver, exercise);
}

void why_given_exercises(why_giver* giver) {
  const why_exercise_table* table = &giver->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    give_plain(giver, &table->rows.at[i]);
}
