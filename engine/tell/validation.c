// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out how well the growth model predicts studies that it has not seen, good or bad.
#include "parts.h"
#include "report.h"

/// What the parts of this file hand to each other.
typedef struct {
  why_arena* arena;
  const why_validation* v;
} teller;

static void say(const teller* t, why_node* into, why_role role, const char* words) {
  why_node_words(t->arena, into, role, words);
}

static void number(const teller* t, why_node* into, const char* name, double value) {
  why_node_number(t->arena, into, name, value);
}

static void add_findings(const teller* t, why_node* list, const char* id, const char* words,
                         const why_validated_findings* f) {
  double covered = 100 * (double)f->covered / (double)t->v->findings;
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  why_node_text(t->arena, record, "model", id);
  number(t, record, "error", f->error);
  number(t, record, "covered_pct", covered);
  number(t, record, "width", f->width);
  number(t, record, "log_density", f->score);
  record->role = WHY_ROLE_ROW;
  record->words = why_arena_print(t->arena, "%.2f\t%.1f %%\t%.1f\t%.4f\t%s", f->error, covered,
                                  f->width, f->score, words);
}

static void add_all_findings(const teller* t, why_node* root) {
  say(t, root, WHY_ROLE_HEADING, "Growth of a muscle in an arm of a study that was left out");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "findings");
  list->role = WHY_ROLE_TABLE;
  say(t, list, WHY_ROLE_COLUMNS, "error, points\tin 95 % interval\tits width\tlog density\tmodel");
  const why_validated_findings* alone = t->v->alone;
  add_findings(t, list, "chosen", "predictors chosen by the other studies", &t->v->model);
  add_findings(t, list, "training", "without mechanics", &alone[WHY_BY_TRAINING]);
  add_findings(t, list, "stress", "moving stress", &alone[WHY_BY_STRESS]);
  add_findings(t, list, "stress-and-length", "moving stress and fibre length",
               &alone[WHY_BY_STRESS_AND_LENGTH]);
}

static void add_differences(const teller* t, why_node* root, const char* id, const char* heading,
                            const why_validated_differences* d) {
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, id);
  say(t, record, WHY_ROLE_HEADING, heading);
  number(t, record, "count", (double)d->count);
  number(t, record, "decided", (double)d->decided);
  number(t, record, "told", (double)d->told);
  number(t, record, "right", (double)d->right);
  number(t, record, "others", (double)d->others);
  number(t, record, "covered", (double)d->covered);
  number(t, record, "width", d->width);
  number(t, record, "error", d->error);
  number(t, record, "error_if_none_expected", d->error_none);
  say(t, record, WHY_ROLE_POINT,
      why_arena_print(
          t->arena,
          "%zu differences whose interval excludes zero: the model expects one for %zu, "
          "in the right direction for %zu.",
          d->decided, d->told, d->right));
  say(t, record, WHY_ROLE_POINT,
      why_arena_print(
          t->arena,
          "%zu others: %zu lie in the interval that the model expects; its mean width is "
          "%.1f points.",
          d->others, d->covered, d->width));
  say(t, record, WHY_ROLE_POINT,
      why_arena_print(t->arena,
                      "Error over all %zu: %.2f points, and %.2f if no difference is expected.",
                      d->count, d->error, d->error_none));
}

/// What hangs on a correlation that few trials print.
static void add_sensitivity(const teller* t, why_node* root, const why_sensitivity* s) {
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, NULL);
  number(t, record, "correlation", s->correlation);
  number(t, record, "heads", (double)s->heads);
  number(t, record, "first_moved", (double)s->first_moved);
  number(t, record, "places", s->places);
  number(t, record, "largest_change", s->largest);
  record->role = WHY_ROLE_POINT;
  record->words = why_arena_print(
      t->arena,
      "With %.2f: of %zu heads %zu have another first exercise; the first five of a head move by "
      "%.1f places on average; no estimate changes by more than %.1f points.",
      s->correlation, s->heads, s->first_moved, s->places, s->largest);
}

static void add_sensitivities(const teller* t, why_node* root, const why_validated* validated) {
  say(t, root, WHY_ROLE_HEADING,
      "Refitted with other correlations of size before and after, where they are not printed");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "correlations");
  for (size_t i = 0; i < validated->tried.count; i++)
    add_sensitivity(t, list, &validated->tried.at[i]);
}

why_node* why_report_validation(const why_validated* validated, why_arena* arena) {
  const why_validation* validation = &validated->found;
  teller t = {arena, validation};
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  say(&t, root, WHY_ROLE_TITLE, "How well growth is predicted in studies that were left out");
  number(&t, root, "studies", (double)validation->studies);
  number(&t, root, "count", (double)validation->findings);
  number(&t, root, "chosen_stress", (double)validation->chosen[WHY_BY_STRESS]);
  number(&t, root, "chosen_stress_and_length",
         (double)validation->chosen[WHY_BY_STRESS_AND_LENGTH]);
  number(&t, root, "unsettled", (double)validation->failed);
  say(&t, root, WHY_ROLE_PARAGRAPH,
      why_arena_print(arena,
                      "%zu studies with %zu findings, each study left out in turn and the model "
                      "fitted anew. The other studies chose moving stress %zu times, stress with "
                      "fibre length %zu times. %zu fits did not settle. Points are per cent of log "
                      "growth.",
                      validation->studies, validation->findings, validation->chosen[WHY_BY_STRESS],
                      validation->chosen[WHY_BY_STRESS_AND_LENGTH], validation->failed));
  add_all_findings(&t, root);
  add_differences(&t, root, "between_exercises", "Differences between two trained arms",
                  &validation->exercises);
  add_differences(&t, root, "against_controls",
                  "Differences between a trained arm and a control arm", &validation->controls);
  add_sensitivities(&t, root, validated);
  why_part_closing(validated->question->ground, arena, root);
  return root;
}
