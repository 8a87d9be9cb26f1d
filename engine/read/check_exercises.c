// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of rules/exercises/ that its schema cannot make: ids, words, and what rows name elsewhere.
// Postures and loads are checked in check_postures.c.
#include "check_rows.h"

#include "evidence_checks.h"
#include "spell.h"

#include <stdlib.h>
#include <string.h>

void why_each_exercise(const why_inspection* inspection, why_exercise_check* check) {
  const why_exercise_table* table = &inspection->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    check(inspection, &table->rows.at[i]);
}

static const char* text_of(const why_inspection* inspection, why_symbol id) {
  return why_inspection_text(inspection, id);
}

static void twice(const why_inspection* inspection) {
  const why_exercise_table* table = &inspection->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    for (size_t j = 0; j < table->rows.count; j++) {
      const why_exercise *row = &table->rows.at[i], *other = &table->rows.at[j];
      if (row->id != other->id || why_place_compare(&other->place, &row->place) >= 0)
        continue;
      why_inspection_report(inspection, row->place, "\"%s\" is already an exercise",
                            text_of(inspection, row->id));
      why_problems_also(inspection->problems, other->place);
      break;
    }
}

static void file_name(const why_inspection* inspection) {
  const why_exercise_table* table = &inspection->tables->exercises;
  for (size_t i = 0; i < table->patterns.count; i++) {
    const why_pattern* row = &table->patterns.at[i];
    if (!why_id_is_file_name(text_of(inspection, row->id), row->place.file))
      why_inspection_report(inspection, row->place, "the pattern \"%s\" is not the file's name",
                            text_of(inspection, row->id));
  }
}

/// A way to name an exercise, in the form in which words are compared.
typedef struct {
  const char* key;
  const char* word;
  const why_exercise* exercise;
  why_place place;
} exercise_word;

typedef WHY_LIST(exercise_word) exercise_words;

static void add_word(const why_inspection* inspection, exercise_words* words, const char* word,
                     const why_exercise* exercise, why_place place) {
  *WHY_LIST_ADD(inspection->scratch, *words) =
      (exercise_word){.key = why_spell_key(inspection->scratch, word, false),
                      .word = word,
                      .exercise = exercise,
                      .place = place};
}

static exercise_words all_words(const why_inspection* inspection) {
  const why_exercise_table* table = &inspection->tables->exercises;
  exercise_words words = {0};
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_exercise* row = &table->rows.at[i];
    add_word(inspection, &words, text_of(inspection, row->id), row, row->place);
    add_word(inspection, &words, row->name, row, row->place);
    for (size_t k = 0; k < row->words.count; k++)
      add_word(inspection, &words, row->words.at[k].text, row, row->words.at[k].place);
  }
  return words;
}

static int by_key_and_place(const void* left, const void* right) {
  const exercise_word *a = left, *b = right;
  int order = strcmp(a->key, b->key);
  return order ? order : why_place_compare(&a->place, &b->place);
}

static void word_twice(const why_inspection* inspection) {
  exercise_words words = all_words(inspection);
  if (words.count)
    qsort(words.at, words.count, sizeof *words.at, by_key_and_place);
  for (size_t i = 1; i < words.count; i++) {
    const exercise_word *row = &words.at[i], *other = &words.at[i - 1];
    if (strcmp(row->key, other->key) != 0 || row->exercise->id == other->exercise->id)
      continue;
    why_inspection_report(inspection, row->place, "\"%s\" already means \"%s\"", row->word,
                          text_of(inspection, other->exercise->id));
    why_problems_also(inspection->problems, other->place);
  }
}

static void check_needs(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->needs.count; i++) {
    const why_needs* needs = &exercise->needs.at[i];
    for (size_t k = 0; k < needs->items.count; k++) {
      if (why_equipment_item_find(&inspection->tables->equipment, needs->items.at[k]))
        continue;
      why_inspection_report(inspection, needs->place, "there is no equipment \"%s\"",
                            text_of(inspection, needs->items.at[k]));
      why_hint_words(inspection, text_of(inspection, needs->items.at[k]), WHY_MEANS_ITEM);
    }
  }
}

static void equipment(const why_inspection* inspection) {
  why_each_exercise(inspection, check_needs);
}

static void need_action(const why_inspection* inspection, why_symbol action, why_place place) {
  if (why_action_find(&inspection->tables->anatomy, action))
    return;
  why_inspection_report(inspection, place, "there is no action \"%s\"",
                        text_of(inspection, action));
  why_problems_hint(inspection->problems,
                    "actions stand under the joints in rules/anatomy/coordinates.xml");
}

static void check_actions(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->moves.count; i++)
    need_action(inspection, exercise->moves.at[i], exercise->place);
  for (size_t i = 0; i < exercise->resistances.count; i++)
    if (exercise->resistances.at[i].drives)
      need_action(inspection, exercise->resistances.at[i].drives,
                  exercise->resistances.at[i].place);
}

static void action(const why_inspection* inspection) {
  why_each_exercise(inspection, check_actions);
}

static void check_tags(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->restricted.count; i++) {
    why_symbol tag = exercise->restricted.at[i];
    const why_restriction* found = why_restriction_find(&inspection->tables->restrictions, tag);
    if (found && found->kind == WHY_RESTRICTION_DEMAND)
      continue;
    if (found) {
      why_inspection_report(inspection, exercise->place, "\"%s\" is a restriction of kind %s",
                            text_of(inspection, tag), why_restriction_kind_name(found->kind));
      why_problems_hint(inspection->problems, "what an exercise asks for is of kind demand");
    } else {
      why_inspection_report(inspection, exercise->place, "there is no restriction \"%s\"",
                            text_of(inspection, tag));
      why_hint_words(inspection, text_of(inspection, tag), WHY_MEANS_RESTRICTION);
    }
  }
}

static void restriction(const why_inspection* inspection) {
  why_each_exercise(inspection, check_tags);
}

/// Whoever must not load the spine relies on the tag, whatever the qualities say.
static void check_spine(const why_inspection* inspection, const why_exercise* exercise) {
  const char* amount = text_of(inspection, exercise->axial_load);
  bool loads = strcmp(amount, "medium") == 0 || strcmp(amount, "high") == 0;
  bool tagged = false;
  for (size_t i = 0; i < exercise->restricted.count; i++)
    tagged |= strcmp(text_of(inspection, exercise->restricted.at[i]), "axial-load") == 0;
  if (loads != tagged)
    why_inspection_report(inspection, exercise->place,
                          "load along the spine is %s, and the tag \"axial-load\" %s", amount,
                          tagged ? "stands here all the same" : "is missing");
}

static void spine(const why_inspection* inspection) {
  why_each_exercise(inspection, check_spine);
}

static void check_neighbours(const why_inspection* inspection, const why_exercise* exercise,
                             why_symbol_list neighbours, const char* sense) {
  for (size_t i = 0; i < neighbours.count; i++) {
    if (neighbours.at[i] == exercise->id)
      why_inspection_report(inspection, exercise->place, "\"%s\" cannot be %s than itself",
                            text_of(inspection, exercise->id), sense);
    else if (!why_exercise_find(&inspection->tables->exercises, neighbours.at[i]))
      why_inspection_report(inspection, exercise->place, "there is no exercise \"%s\" to be %s",
                            text_of(inspection, neighbours.at[i]), sense);
  }
}

static void check_both_neighbours(const why_inspection* inspection, const why_exercise* exercise) {
  check_neighbours(inspection, exercise, exercise->easier, "easier");
  check_neighbours(inspection, exercise, exercise->harder, "harder");
}

static void neighbour(const why_inspection* inspection) {
  why_each_exercise(inspection, check_both_neighbours);
}

why_check_rows why_exercise_checks = {
    {"exercise-twice", WHY_ERROR, twice, NULL, "an id that two exercises share"},
    {"exercise-file-name", WHY_ERROR, file_name, NULL,
     "a file of exercises that is not called like its pattern"},
    {"exercise-word-twice", WHY_ERROR, word_twice, "exercise-twice",
     "an id, name or word that could mean two exercises"},
    {"exercise-equipment", WHY_ERROR, equipment, "files",
     "an exercise that needs an item which does not exist"},
    {"exercise-action", WHY_ERROR, action, "files",
     "an exercise that moves, or a lever that drives, an action which does not exist"},
    {"exercise-restriction", WHY_ERROR, restriction, "files",
     "an exercise with a tag that is no restriction of kind demand"},
    {"exercise-spine", WHY_ERROR, spine, "files",
     "an exercise that is tagged for load along the spine and rated without, or the reverse"},
    {"exercise-neighbour", WHY_ERROR, neighbour, "files",
     "an easier or harder exercise that does not exist or is the exercise itself"},
    {0},
};
