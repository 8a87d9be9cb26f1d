// SPDX-License-Identifier: GPL-3.0-or-later
// What differs between two answers: what was asked, what each pick was and is, and why.
#include "report.h"

#include "estimate_part.h"
#include "parts.h"

#include <string.h>

enum { PARTS_SHOWN = 12, MOVED_SHOWN = 8, MOVED_LISTED = 100 };

static const char* const KINDS[] = {"came", "went", "changed", "moved", "slight", "pushed"};

static bool is_same(const char* a, const char* b) {
  return a == b || (a && b && strcmp(a, b) == 0);
}

static void print_growth(why_buffer* text, const why_estimate* estimate) {
  if (!estimate) {
    why_buffer_add(text, "none");
    return;
  }
  int places = estimate->basis == WHY_BASIS_MECHANICS ? 0 : 1;
  why_buffer_print(text, "%.*f %% (%.*f to %.*f)", places, estimate->percent, places, estimate->low,
                   places, estimate->high);
}

/// Nothing where both read alike.
static void add_growth(why_buffer* mark, const why_estimate* before, const why_estimate* after) {
  why_buffer now = {.arena = mark->arena};
  why_buffer was = {.arena = mark->arena};
  print_growth(&now, after);
  print_growth(&was, before);
  if (!is_same(why_buffer_text(&now), why_buffer_text(&was)))
    why_buffer_print(mark, "; expected growth %s, was %s", why_buffer_text(&now),
                     why_buffer_text(&was));
}

/// "came, as number 3", "number 4, was 7; step 1, was 2".
static const char* mark_of(why_arena* arena, const why_shift* shift) {
  why_buffer text = {.arena = arena};
  if (shift->kind == WHY_SHIFT_CAME)
    why_buffer_print(&text, "came, as number %zu", shift->number_after);
  else if (shift->kind == WHY_SHIFT_WENT)
    why_buffer_print(&text, "went, was number %zu", shift->number_before);
  else if (shift->number_after == shift->number_before)
    why_buffer_print(&text, "number %zu as before", shift->number_after);
  else
    why_buffer_print(&text, "number %zu, was %zu", shift->number_after, shift->number_before);
  const why_pick_row* before = shift->before;
  const why_pick_row* after = shift->after;
  if (before && after && before->step != after->step)
    why_buffer_print(&text, "; step %d, was %d", after->step, before->step);
  if (before && after && !is_same(before->certainty, after->certainty))
    why_buffer_print(&text, "; certainty %s, was %s",
                     after->certainty ? after->certainty : "not graded",
                     before->certainty ? before->certainty : "not graded");
  if (before && after)
    add_growth(&text, before->estimate, after->estimate);
  return why_buffer_text(&text);
}

static void add_row(why_arena* arena, why_node* record, const char* name, const why_pick_row* row,
                    size_t number) {
  if (!row) {
    why_node_text(arena, record, name, NULL);
    return;
  }
  why_node* each = why_node_add(arena, record, WHY_NODE_RECORD, name);
  why_node_number(arena, each, "number", (double)number);
  why_node_text(arena, each, "recommendation", row->recommendation);
  why_node_text(arena, each, "certainty", row->certainty);
  why_node_number(arena, each, "step", row->step);
  why_part_estimate(arena, each, "estimate", row->estimate, WHY_ESTIMATE_SHOWN);
}

static bool same_causes(const why_shift* a, const why_shift* b) {
  bool same = a->causes.count == b->causes.count && a->causes.count > 0;
  for (size_t i = 0; same && i < a->causes.count; i++)
    same = a->causes.at[i].gone == b->causes.at[i].gone &&
           strcmp(a->causes.at[i].say, b->causes.at[i].say) == 0;
  return same;
}

/// `above` is the entry before this one, or NULL: people read the same causes once.
static void add_causes(why_arena* arena, why_node* record, const why_shift* shift,
                       const why_shift* above) {
  bool same = above && same_causes(shift, above);
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "because");
  if (same)
    why_node_words(arena, list, WHY_ROLE_POINT, "For the same reasons.");
  for (size_t i = 0; i < shift->causes.count; i++) {
    const why_cause* cause = &shift->causes.at[i];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    each->role = same ? WHY_ROLE_NONE : WHY_ROLE_POINT;
    each->words = why_arena_print(arena, *cause->mark ? "%s: %s [%s]" : "%s: %s",
                                  cause->gone ? "Before" : "Now", cause->say, cause->mark);
    why_node_text(arena, each, "when", cause->gone ? "before" : "now");
    why_node_text(arena, each, "say", cause->say);
    why_node_text(arena, each, "from", *cause->mark ? cause->mark : NULL);
  }
}

/// Whether a shift has an entry of its own for people; the others are counted.
static bool is_told(const why_shift* shift) {
  return shift->kind != WHY_SHIFT_PUSHED && shift->kind != WHY_SHIFT_SLIGHT;
}

static void add_shift(why_arena* arena, why_node* list, const why_shift* shift,
                      const why_shift* above) {
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  if (is_told(shift)) {
    record->role = WHY_ROLE_ENTRY;
    record->words = shift->name;
    record->mark = mark_of(arena, shift);
  }
  why_node_text(arena, record, "exercise", shift->exercise);
  why_node_text(arena, record, "name", shift->name);
  why_node_text(arena, record, "what", KINDS[shift->kind]);
  add_row(arena, record, "before", shift->before, shift->number_before);
  add_row(arena, record, "after", shift->after, shift->number_after);
  add_causes(arena, record, shift, above);
}

static size_t count_kind(const why_shifts* of, why_shift_kind kind) {
  size_t count = 0;
  for (size_t i = 0; i < of->all.count; i++)
    count += of->all.at[i].kind == kind;
  return count;
}

static size_t count_told(const why_shifts* of) {
  size_t count = 0;
  for (size_t i = 0; i < of->all.count; i++)
    count += is_told(&of->all.at[i]);
  return count;
}

static const char* goal_name(const why_shifts* of, why_arena* arena) {
  const why_question* question = of->after->question;
  if (question->replaced)
    return why_ground_name(question->ground, arena, "exercise",
                           why_symbols_text(question->ground->symbols, question->replaced));
  return why_ground_name(question->ground, arena, why_meaning_name(question->goal.kind),
                         why_symbols_text(question->ground->symbols, question->goal.id));
}

static const char* goal_id(const why_shifts* of) {
  const why_question* question = of->after->question;
  return why_symbols_text(question->ground->symbols,
                          question->replaced ? question->replaced : question->goal.id);
}

/// What has no entry of its own: how many moved a little, how many not at all.
static void add_others(why_arena* arena, why_node* record, const why_shifts* of) {
  size_t slight = count_kind(of, WHY_SHIFT_SLIGHT);
  size_t unmoved = of->same + count_kind(of, WHY_SHIFT_PUSHED);
  if (slight)
    why_node_words(
        arena, record, WHY_ROLE_PARAGRAPH,
        why_arena_print(arena, "Moved by shifts of expected growth of less than %g points: %zu.",
                        of->worth, slight));
  if (unmoved)
    why_node_words(
        arena, record, WHY_ROLE_PARAGRAPH,
        why_arena_print(arena, "Unchanged, and in the same order among themselves: %zu.", unmoved));
}

/// Of many goals only those with a shift to tell have a heading for people.
static void add_goal(why_arena* arena, why_node* list, const why_shifts* of, bool alone) {
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  bool shown = count_told(of) || (alone && of->all.count);
  why_node_text(arena, record, "goal", goal_id(of));
  why_node_number(arena, record, "picks_before", (double)of->before->picks.count);
  why_node_number(arena, record, "picks_after", (double)of->after->picks.count);
  why_node_number(arena, record, "same", (double)of->same);
  if (shown)
    why_node_words(arena, record, WHY_ROLE_HEADING,
                   why_arena_print(arena, "What differs for %s (picks: %zu, were %zu)",
                                   goal_name(of, arena), of->after->picks.count,
                                   of->before->picks.count));
  why_node* shifts = why_node_add(arena, record, WHY_NODE_LIST, "shifts");
  const why_shift* above = NULL;
  for (size_t i = 0; i < of->all.count; i++) {
    add_shift(arena, shifts, &of->all.at[i], above);
    if (is_told(&of->all.at[i]))
      above = &of->all.at[i];
  }
  if (shown)
    add_others(arena, record, of);
}

/// Studies, rules and exercises that only one of two knowledge bases holds.
static void add_parts(const why_comparison* comparison, why_arena* arena, why_node* root) {
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "parts");
  if (comparison->parts.count)
    why_node_words(arena, list, WHY_ROLE_HEADING, "What only one of the knowledge bases holds");
  for (size_t i = 0; i < comparison->parts.count; i++) {
    const why_part_change* part = &comparison->parts.at[i];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    if (i < PARTS_SHOWN) {
      each->role = WHY_ROLE_POINT;
      each->words = why_arena_print(arena, "%s: %s, among the %s", part->gone ? "Before" : "Now",
                                    part->id, part->kind);
    }
    why_node_text(arena, each, "when", part->gone ? "before" : "now");
    why_node_text(arena, each, "kind", part->kind);
    why_node_text(arena, each, "id", part->id);
  }
  if (comparison->parts.count > PARTS_SHOWN)
    why_node_words(arena, list, WHY_ROLE_POINT,
                   why_arena_print(arena, "and %zu more", comparison->parts.count - PARTS_SHOWN));
}

static const char* moved_text(const why_comparison* comparison, why_arena* arena,
                              const why_moved* moved) {
  const why_ground* ground = comparison->after;
  why_buffer text = {.arena = arena};
  why_buffer_print(
      &text, "%s, %s: ",
      why_ground_name(ground, arena, "exercise",
                      why_symbols_text(ground->symbols, moved->exercise)),
      why_ground_name(ground, arena, "head", why_symbols_text(ground->symbols, moved->head)));
  print_growth(&text, &moved->after);
  why_buffer_add(&text, ", was ");
  print_growth(&text, &moved->before);
  return why_buffer_text(&text);
}

/// What a new fit moved most, before what that does to answers.
static void add_moved(const why_comparison* comparison, why_arena* arena, why_node* root) {
  const why_symbols* symbols = comparison->after->symbols;
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "moved");
  if (comparison->moved.count)
    why_node_words(arena, list, WHY_ROLE_HEADING, "Where expected growth moved most");
  for (size_t i = 0; i < comparison->moved.count && i < MOVED_LISTED; i++) {
    const why_moved* moved = &comparison->moved.at[i];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    if (i < MOVED_SHOWN) {
      each->role = WHY_ROLE_POINT;
      each->words = moved_text(comparison, arena, moved);
    }
    why_node_text(arena, each, "exercise", why_symbols_text(symbols, moved->exercise));
    why_node_text(arena, each, "head", why_symbols_text(symbols, moved->head));
    why_part_estimate(arena, each, "before", &moved->before, WHY_ESTIMATE_SHOWN);
    why_part_estimate(arena, each, "after", &moved->after, WHY_ESTIMATE_SHOWN);
  }
  if (comparison->moved.count > MOVED_SHOWN)
    why_node_words(arena, list, WHY_ROLE_POINT,
                   why_arena_print(arena, "and %zu more by %g points or more",
                                   comparison->moved.count - MOVED_SHOWN,
                                   comparison->goals.at[0]->worth));
}

static const char* what_if(const why_comparison* comparison, why_arena* arena) {
  const why_symbol_list* without = &comparison->after->tables->without;
  if (comparison->before == comparison->after)
    return "What if";
  if (without->count == comparison->before->tables->without.count)
    return "The same of another knowledge base";
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "What if these were not there: ");
  for (size_t i = 0; i < without->count; i++)
    why_buffer_print(&text, "%s%s", i ? ", " : "",
                     why_symbols_text(comparison->after->symbols, without->at[i]));
  return why_buffer_text(&text);
}

/// What was asked, and what was asked instead.
static void add_asked(const why_comparison* comparison, why_arena* arena, why_node* root) {
  const why_shifts* only = comparison->goals.count == 1 ? comparison->goals.at[0] : NULL;
  if (!only) {
    why_node_words(arena, root, WHY_ROLE_TITLE, "Two knowledge bases, group by group");
    return;
  }
  why_part_understood(only->before, root);
  why_node* changed = why_node_add(arena, root, WHY_NODE_RECORD, "changed");
  why_node_words(arena, changed, WHY_ROLE_HEADING, what_if(comparison, arena));
  why_part_understood(only->after, changed);
}

/// How many goals differ, and which of them by nothing to tell.
static void add_rest(const why_comparison* comparison, why_arena* arena, why_node* root) {
  size_t differ = 0;
  size_t slight = 0;
  why_buffer names = {.arena = arena};
  for (size_t i = 0; i < comparison->goals.count; i++) {
    const why_shifts* of = comparison->goals.at[i];
    differ += of->all.count > 0;
    if (of->all.count && !count_told(of))
      why_buffer_print(&names, "%s%s", slight++ ? ", " : "", goal_name(of, arena));
  }
  if (!differ)
    why_node_words(arena, root, WHY_ROLE_PARAGRAPH, "No pick differs.");
  if (!differ || comparison->goals.count == 1)
    return;
  why_node_words(arena, root, WHY_ROLE_HEADING, "Groups of muscles");
  why_node_words(arena, root, WHY_ROLE_POINT,
                 why_arena_print(arena, "Asked about: %zu, of which %zu differ",
                                 comparison->goals.count, differ));
  if (slight)
    why_node_words(arena, root, WHY_ROLE_POINT,
                   why_arena_print(arena,
                                   "Only places changed, by shifts of less than %g points: %s",
                                   comparison->goals.at[0]->worth, why_buffer_text(&names)));
}

why_node* why_report_comparison(const why_comparison* comparison, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  add_asked(comparison, arena, root);
  add_parts(comparison, arena, root);
  add_moved(comparison, arena, root);
  why_node* goals = why_node_add(arena, root, WHY_NODE_LIST, "goals");
  for (size_t i = 0; i < comparison->goals.count; i++)
    add_goal(arena, goals, comparison->goals.at[i], comparison->goals.count == 1);
  add_rest(comparison, arena, root);
  why_node* before = why_node_add(arena, root, WHY_NODE_RECORD, "before");
  why_node_text(arena, before, "digest", comparison->before->tables->digest);
  if (comparison->before != comparison->after)
    why_node_words(
        arena, root, WHY_ROLE_PARAGRAPH,
        why_arena_print(arena, "Before: knowledge %s", comparison->before->tables->digest));
  why_part_closing(comparison->after, arena, root);
  return root;
}
