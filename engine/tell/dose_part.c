// SPDX-License-Identifier: GPL-3.0-or-later
#include "dose_part.h"

#include "measured_part.h"

#include <math.h>

static void print_span(why_buffer* text, const char* lead, why_from_to span, const char* behind) {
  if (isnan(span.low))
    return;
  if (span.low == span.high)
    why_buffer_print(text, "%s%g%s", lead, span.low, behind);
  else
    why_buffer_print(text, "%s%g–%g%s", lead, span.low, span.high, behind);
}

const char* why_dose_words(const why_dose* dose, double sets, why_arena* arena) {
  why_buffer text = {.arena = arena};
  why_from_to own = dose->at[WHY_DOSE_SETS];
  if (sets > 0)
    own = (why_from_to){sets, sets};
  print_span(&text, "", own, own.high == 1 ? " set" : " sets");
  print_span(&text, " of ", dose->at[WHY_DOSE_REPETITIONS], "");
  print_span(&text, ", ", dose->at[WHY_DOSE_RESERVE], " in reserve");
  print_span(&text, ", rest ", dose->at[WHY_DOSE_REST], " s");
  return why_buffer_text(&text);
}

void why_part_dose(const why_ground* ground, why_arena* arena, why_node* record,
                   const why_dose* dose) {
  why_node* into = why_node_add(arena, record, WHY_NODE_RECORD, "dose");
  for (int i = 0; i < WHY_ASPECTS; i++) {
    if (isnan(dose->at[i].low))
      continue;
    why_node* each = why_node_add(arena, into, WHY_NODE_RECORD, why_aspect_name((why_aspect)i));
    why_node_number(arena, each, "low", dose->at[i].low);
    why_node_number(arena, each, "high", dose->at[i].high);
    why_node_text(arena, each, "measurement",
                  why_symbols_text(ground->symbols, dose->measurement[i]));
  }
}

static void add_once(why_arena* arena, why_symbol_list* all, why_symbol symbol) {
  for (size_t i = 0; i < all->count; i++)
    if (all->at[i] == symbol)
      return;
  if (symbol)
    *WHY_LIST_ADD(arena, *all) = symbol;
}

void why_part_dose_sources(const why_ground* ground, why_arena* arena, why_node* root,
                           const why_doses* doses, const why_symbol_list* more) {
  why_symbol_list all = {0};
  for (size_t i = 0; i < doses->count; i++)
    for (int k = 0; k < WHY_ASPECTS; k++)
      add_once(arena, &all, doses->at[i].measurement[k]);
  for (size_t i = 0; i < more->count; i++)
    add_once(arena, &all, more->at[i]);
  if (all.count)
    why_node_words(arena, root, WHY_ROLE_HEADING, "What the dose rests on");
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "dose_sources");
  for (size_t i = 0; i < all.count; i++)
    why_part_measurement(ground, arena, list, why_symbols_text(ground->symbols, all.at[i]));
}

void why_part_dose_general(const why_picked* answer, why_node* root,
                           why_symbol_list* measurements) {
  why_reasons sentences = {0};
  why_dose_general(answer, &sentences, measurements);
  why_node* list = why_node_add(answer->arena, root, WHY_NODE_LIST, "general");
  for (size_t i = 0; i < sentences.count; i++) {
    why_node* each = why_node_text(answer->arena, list, NULL, sentences.at[i].say);
    each->role = WHY_ROLE_POINT;
    each->words = sentences.at[i].say;
  }
}

void why_part_doses(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  const why_ground* ground = answer->question->ground;
  why_doses doses = {0};
  why_symbol_list measurements = {0};
  why_node* part = why_node_add(arena, root, WHY_NODE_RECORD, "doses");
  why_node_words(arena, part, WHY_ROLE_HEADING, "Dose");
  why_node* list = why_node_add(arena, part, WHY_NODE_LIST, "picks");
  for (size_t i = 0; i < answer->picks.count; i++) {
    why_dose dose = why_dose_of(answer, answer->picks.at[i].exercise);
    *WHY_LIST_ADD(arena, doses) = dose;
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    each->role = WHY_ROLE_POINT;
    each->words =
        why_arena_print(arena, "%s: %s", answer->picks.at[i].name, why_dose_words(&dose, 0, arena));
    why_node_text(arena, each, "exercise", why_symbols_text(ground->symbols, dose.exercise));
    why_part_dose(ground, arena, each, &dose);
  }
  why_part_dose_general(answer, part, &measurements);
  why_part_dose_sources(ground, arena, part, &doses, &measurements);
}
