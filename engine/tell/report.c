// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out picks, swaps and explanations: what a program reads and what a person reads, side by
// side in one tree.
#include "report.h"

#include "dose_part.h"
#include "parts.h"

#include <math.h>

enum { WAYS_SHOWN = 5 };

static const char* text_of(const why_picked* answer, why_symbol symbol) {
  return why_symbols_text(answer->question->ground->symbols, symbol);
}

static void add_picks(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  if (answer->picks.count) {
    const char* heading =
        answer->pick_count > answer->picks.count
            ? why_arena_print(arena, "Picks, best first (%zu of %zu; all on request)",
                              answer->picks.count, answer->pick_count)
            : "Picks, best first";
    why_node_words(arena, root, WHY_ROLE_HEADING, heading);
    if (answer->picks.at[0].estimate)
      why_node_words(
          arena, root, WHY_ROLE_PARAGRAPH,
          why_arena_print(arena,
                          "Expected growth is that of the whole goal in 10 weeks with 10 "
                          "weekly sets, against no training, for people %s; in brackets "
                          "the 95 %% interval of the mean.",
                          answer->trained ? "who trained before" : "new to training"));
  }
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "picks");
  for (size_t i = 0; i < answer->picks.count; i++)
    why_part_pick(answer, list, &answer->picks.at[i], i ? &answer->picks.at[i - 1] : NULL);
}

static void add_against(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  if (answer->against.count)
    why_node_words(arena, root, WHY_ROLE_HEADING,
                   answer->against_count > answer->against.count
                       ? why_arena_print(arena,
                                         "Not for this goal, though often expected (%zu of %zu "
                                         "movement patterns)",
                                         answer->against.count, answer->against_count)
                       : "Not for this goal, though often expected");
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "against");
  for (size_t i = 0; i < answer->against.count; i++) {
    const why_against_row* row = &answer->against.at[i];
    why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    record->role = WHY_ROLE_ENTRY;
    record->words = row->name;
    record->mark = row->recommendation;
    record->anchor = text_of(answer, row->exercise);
    why_node_text(arena, record, "exercise", text_of(answer, row->exercise));
    why_node_text(arena, record, "name", row->name);
    why_node_text(arena, record, "recommendation", row->recommendation);
    why_part_reasons(answer, record, &row->reasons);
  }
}

static void add_near(const why_picked* answer, why_node* list, const why_near_row* row) {
  why_arena* arena = answer->arena;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ENTRY;
  record->words = row->name;
  record->anchor = text_of(answer, row->exercise);
  why_node_text(arena, record, "exercise", text_of(answer, row->exercise));
  why_node_text(arena, record, "name", row->name);
  if (row->share) {
    why_node_number(arena, record, "share", row->share);
    record->mark = why_arena_print(arena, "about %d %% of the weekly work", row->share);
  }
  why_node* because = why_node_add(arena, record, WHY_NODE_LIST, "because");
  for (size_t j = 0; j < row->because.count; j++) {
    why_node* each = why_node_text(arena, because, NULL, row->because.at[j].say);
    each->role = WHY_ROLE_POINT;
    each->words = row->because.at[j].say;
  }
}

static void add_complement(const why_picked* answer, why_node* root) {
  const why_near_row* leading = &answer->leading;
  if (answer->complement.count)
    why_node_words(answer->arena, root, WHY_ROLE_HEADING,
                   leading->share
                       ? why_arena_print(answer->arena,
                                         "To complete the goal, beside %s (about %d %% of the "
                                         "weekly work)",
                                         leading->name, leading->share)
                       : "To get back what is lost, add");
  why_node* list = why_node_add(answer->arena, root, WHY_NODE_LIST, "complement");
  for (size_t i = 0; i < answer->complement.count; i++)
    add_near(answer, list, &answer->complement.at[i]);
}

static void add_rejected(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  why_node* rejected = why_node_add(arena, root, WHY_NODE_RECORD, "rejected");
  why_node_number(arena, rejected, "count", (double)answer->rejected_count);
  if (answer->nearest.count)
    why_node_words(arena, rejected, WHY_ROLE_HEADING, "One change away");
  why_node* list = why_node_add(arena, rejected, WHY_NODE_LIST, "nearest");
  for (size_t i = 0; i < answer->nearest.count; i++)
    add_near(answer, list, &answer->nearest.at[i]);
}

static void add_steps(const why_picked* answer, why_node* into, const why_step* step) {
  why_arena* arena = answer->arena;
  for (; step; step = step->next) {
    why_node* record = why_node_add(arena, into, WHY_NODE_RECORD, NULL);
    record->role = WHY_ROLE_STEP;
    record->words = step->say;
    record->mark = *step->mark ? step->mark : NULL;
    why_node_text(arena, record, "say", step->say);
    why_node_text(arena, record, "from", *step->mark ? step->mark : NULL);
    why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "because");
    add_steps(answer, list, step->first);
    if (step->more)
      why_node_words(arena, list, WHY_ROLE_STEP,
                     why_arena_print(arena, "%zu more of this kind", step->more));
  }
}

static void add_texts(const why_picked* answer, why_node* root, const char* name,
                      const why_texts* texts, why_role role) {
  why_node* list = why_node_add(answer->arena, root, WHY_NODE_LIST, name);
  for (size_t i = 0; i < texts->count; i++) {
    why_node* each = why_node_text(answer->arena, list, NULL, texts->at[i]);
    each->role = role;
    each->words = texts->at[i];
  }
}

static void add_no_pick(const why_picked* answer, why_node* root) {
  if (!answer->picks.count && !answer->referrals.count)
    why_node_words(answer->arena, root, WHY_ROLE_PARAGRAPH, "No pick is possible.");
  add_texts(answer, root, "notes", &answer->notes, WHY_ROLE_POINT);
}

static void add_referral(const why_picked* answer, why_node* root) {
  add_texts(answer, root, "referrals", &answer->referrals, WHY_ROLE_PARAGRAPH);
  if (answer->referrals.count)
    why_node_words(answer->arena, root, WHY_ROLE_PARAGRAPH,
                   answer->question->ground->tables->restrictions.referral);
}

/// Sets of changes; a few are shown to people, all are there for programs.
static void add_ways(const why_picked* answer, why_node* record, const why_absence* absence) {
  why_arena* arena = answer->arena;
  if (absence->ways.count)
    why_node_words(arena, record, WHY_ROLE_HEADING,
                   why_arena_print(arena,
                                   "What would make it a pick (all smallest sets of up to %d "
                                   "changes were looked for)",
                                   WHY_REPAIR_MOST));
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "ways");
  for (size_t i = 0; i < absence->ways.count; i++) {
    const why_way* way = &absence->ways.at[i];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    if (i < WAYS_SHOWN) {
      each->role = WHY_ROLE_POINT;
      each->words =
          why_arena_print(arena, "%s: then number %zu of the picks", way->say, way->number);
    }
    why_node_text(arena, each, "say", way->say);
    why_node_number(arena, each, "number", (double)way->number);
    why_node* changes = why_node_add(arena, each, WHY_NODE_LIST, "changes");
    for (size_t k = 0; k < way->changes.count; k++) {
      why_node* change = why_node_add(arena, changes, WHY_NODE_RECORD, NULL);
      why_node_text(arena, change, "assumption", way->changes.at[k].assumption);
      why_node_text(arena, change, "id", way->changes.at[k].id);
      why_node_text(arena, change, "words", way->changes.at[k].words);
    }
  }
  if (absence->ways.count > WAYS_SHOWN)
    why_node_words(arena, record, WHY_ROLE_POINT,
                   why_arena_print(arena, "and %zu more sets, shown by --format json%s",
                                   absence->ways.count - WAYS_SHOWN,
                                   absence->cut ? "; still others were not tried" : ""));
}

/// In one sentence what changes can do when they do not make it a pick.
static const char* vain_words(const why_picked* answer, const why_absence* absence) {
  if (answer->referrals.count || absence->ways.count)
    return NULL;
  if (absence->possible)
    return "It can be done here as things are; no other level makes it a pick beside the others.";
  if (absence->vain_first)
    return why_arena_print(answer->arena,
                           "It would be possible by a change (%s; sets of up to %d that would do: "
                           "%zu), but still no pick beside the others.",
                           absence->vain_first, WHY_REPAIR_MOST, absence->vain);
  return absence->hopeless
             ? "No change to equipment or restrictions makes it a pick for this goal."
             : why_arena_print(answer->arena, "It takes more than %d changes to make it possible.",
                               WHY_REPAIR_MOST);
}

/// Rules with what fails in them, and the rules that would have followed.
static void add_failure(const why_picked* answer, why_node* record, const char* name,
                        const char* heading, const why_failure* failure) {
  why_arena* arena = answer->arena;
  why_node* list = why_node_add(arena, record, WHY_NODE_RECORD, name);
  why_node_words(arena, list, WHY_ROLE_HEADING, heading);
  add_steps(answer, why_node_add(arena, list, WHY_NODE_LIST, "steps"), failure->steps->first);
  why_node* path = why_node_add(arena, list, WHY_NODE_LIST, "then");
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "From there a pick would follow by: ");
  for (size_t i = failure->path.count; i-- > 0;) {
    why_node_text(arena, path, NULL, text_of(answer, failure->path.at[i]));
    why_buffer_print(&text, "%s%s", text_of(answer, failure->path.at[i]), i ? ", " : ".");
  }
  if (failure->path.count)
    why_node_words(arena, list, WHY_ROLE_POINT, why_buffer_text(&text));
}

static void add_absence(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  const why_absence* absence = answer->absence;
  if (absence->number) {
    why_node_number(arena, root, "number", (double)absence->number);
    if (absence->above.count)
      why_node_words(arena, root, WHY_ROLE_HEADING,
                     why_arena_print(arena, "What stands before it (it is number %zu of %zu picks)",
                                     absence->number, answer->all_count));
    add_texts(answer, root, "above", &absence->above, WHY_ROLE_POINT);
    return;
  }
  why_node* record = why_node_add(arena, root, WHY_NODE_RECORD, "why_not");
  why_node_number(arena, record, "limit", WHY_REPAIR_MOST);
  add_ways(answer, record, absence);
  why_node* vain = why_node_text(arena, record, "else", vain_words(answer, absence));
  vain->role = WHY_ROLE_PARAGRAPH;
  vain->words = vain->text;
  why_node_number(arena, record, "vain", (double)absence->vain);
  add_failure(answer, record, "failed", "The rule that would have made it a pick, and what fails",
              &absence->failed);
  if (absence->vain_first)
    add_failure(answer, record, "after", "What would still fail after that change",
                &absence->vain_failed);
}

static void add_chain(const why_picked* answer, why_node* root) {
  why_arena* arena = answer->arena;
  why_node_text(arena, root, "exercise", text_of(answer, answer->question->exercise));
  why_node* verdict = why_node_text(arena, root, "verdict", answer->verdict);
  verdict->role = WHY_ROLE_PARAGRAPH;
  verdict->words = answer->verdict;
  why_part_figures(answer->question->ground, arena, root, answer->question->exercise, NULL);
  add_absence(answer, root);
  why_node_words(arena, root, WHY_ROLE_HEADING, "The chain of reasons");
  add_steps(answer, why_node_add(arena, root, WHY_NODE_LIST, "chain"), answer->chain->first);
}

why_node* why_report_picked(const why_picked* answer) {
  why_node* root = why_node_add(answer->arena, NULL, WHY_NODE_RECORD, NULL);
  why_part_understood(answer, root);
  add_referral(answer, root);
  if (answer->chain) {
    add_chain(answer, root);
  } else {
    add_picks(answer, root);
    add_no_pick(answer, root);
    if (answer->question->dosed && answer->picks.count)
      why_part_doses(answer, root);
    add_complement(answer, root);
    add_against(answer, root);
    add_rejected(answer, root);
    if (answer->notices.count)
      why_node_words(answer->arena, root, WHY_ROLE_HEADING, "With this equipment");
    add_texts(answer, root, "notices", &answer->notices, WHY_ROLE_POINT);
  }
  why_part_sources(answer, root);
  why_part_closing(answer->question->ground, answer->arena, root);
  return root;
}
