// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out a draft: the file, and what became of every number of the text; and a study as a table.
#include "parts.h"
#include "report.h"

#include <math.h>

static size_t count_of(const why_draft_lexed* text, why_number_fate fate) {
  size_t count = 0;
  for (size_t i = 0; i < text->numbers.count; i++)
    count += text->numbers.at[i].fate == fate;
  return count;
}

static void add_numbers(const why_draft_lexed* text, why_arena* arena, why_node* root) {
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "numbers");
  list->role = WHY_ROLE_TABLE;
  list->words = "Numbers";
  list->sheet = true;
  why_node_words(arena, list, WHY_ROLE_COLUMNS, "number\tsentence\tfate\twhat it is");
  for (size_t i = 0; i < text->numbers.count; i++) {
    const why_draft_number* each = &text->numbers.at[i];
    why_node* row = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    row->role = WHY_ROLE_ROW;
    row->words = why_arena_print(arena, "%s\t%zu\t%s\t%s", each->text, each->sentence + 1,
                                 why_number_fate_name(each->fate), each->what);
    why_node_text(arena, row, "written", each->text);
    why_node_number(arena, row, "value", each->value);
    why_node_number(arena, row, "sentence", (double)(each->sentence + 1));
    why_node_text(arena, row, "fate", why_number_fate_name(each->fate));
    why_node_text(arena, row, "what", each->what);
  }
}

static void add_sentences(const why_draft_lexed* text, why_arena* arena, why_node* root) {
  why_node_words(arena, root, WHY_ROLE_HEADING, "Sentences");
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "sentences");
  for (size_t i = 0; i < text->sentences.count; i++) {
    why_node* row = why_node_text(arena, list, NULL, text->sentences.at[i].text);
    row->role = WHY_ROLE_POINT;
    row->words = why_arena_print(arena, "%zu: %s", i + 1, text->sentences.at[i].text);
  }
}

static void add_text(const why_draft_lexed* text, why_arena* arena, why_node* root) {
  why_node* counts = why_node_add(arena, root, WHY_NODE_RECORD, "counts");
  for (why_number_fate fate = WHY_NUMBER_OPEN; fate <= WHY_NUMBER_IGNORED; fate++)
    why_node_number(arena, counts, why_number_fate_name(fate), (double)count_of(text, fate));
  why_node_words(
      arena, root, WHY_ROLE_PARAGRAPH,
      why_arena_print(arena,
                      "%zu numbers: %zu used in the draft, %zu found that could not be assigned, "
                      "%zu ignored, each with the reason. Nothing is guessed.",
                      text->numbers.count, count_of(text, WHY_NUMBER_USED),
                      count_of(text, WHY_NUMBER_OPEN), count_of(text, WHY_NUMBER_IGNORED)));
  why_node_words(arena, root, WHY_ROLE_HEADING, "Every number of the text");
  add_numbers(text, arena, root);
  add_sentences(text, arena, root);
}

why_node* why_report_drafting(const why_drafting* drafting, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE,
                 drafting->draft ? "A study drafted from a text, for you to confirm"
                                 : "A study made from a table");
  if (drafting->draft)
    add_text(&drafting->draft->text, arena, root);
  else
    why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                   "--format xml writes its file; `study add` checks it, and says what it would "
                   "change.");
  why_node_text(arena, root, WHY_DOCUMENT, drafting->xml);
  why_part_closing(drafting->question->ground, arena, root);
  return root;
}

why_node* why_report_tabling(const why_tabling* tabling, why_arena* arena) {
  const why_study_sheet* sheet = &tabling->sheet;
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE, "A study as a table");
  why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                 why_arena_print(arena, "%zu rows of %zu columns; --format csv writes them.",
                                 sheet->rows.count, sheet->columns.count));
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "rows");
  list->sheet = true;
  for (size_t i = 0; i < sheet->rows.count; i++) {
    why_node* row = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    for (size_t k = 0; k < sheet->columns.count; k++)
      why_node_text(arena, row, sheet->columns.at[k], sheet->rows.at[i][k]);
  }
  why_part_closing(tabling->question->ground, arena, root);
  return root;
}
