// SPDX-License-Identifier: GPL-3.0-or-later
// Statics of every position of the catalogue, and what they say against an exercise.
#include "check.h"

#include "demand.h"
#include "length.h"

#include <math.h>
#include <string.h>

/// An action that is moved must be asked for in this many of the three positions.
enum { DEMANDED_POSITIONS = 2 };

/// Less than this is no lever that an exercise would be chosen for, metres.
static const double LEAST_ARM_M = 0.005;

/// So many heads are named in one problem.
enum { HEADS_NAMED = 3 };

/// Feet that stay on the floor may be told this far apart: angles are rounded, metres.
static const double FEET_TOLERANCE_M = 0.03;

static const char* const POSITIONS[WHY_POSITIONS] = {"stretched", "middle", "shortened"};

/// What a check of one exercise is given.
typedef struct {
  why_inspection inspection;
  const why_body_model* model;
  const why_exercise* exercise;
  why_statics* statics; ///< One a position.
} trial;

static const char* text_of(const trial* t, why_symbol id) {
  return why_inspection_text(&t->inspection, id);
}

static void find_imbalance(const trial* t) {
  for (int i = 0; i < WHY_POSITIONS; i++) {
    const why_reactions* reactions = &t->statics[i].reactions;
    if (reactions->imbalance <= t->model->balance_tolerance && reactions->settled)
      continue;
    why_inspection_report(&t->inspection, t->exercise->positions[i].place,
                          "the %s position of \"%s\" is out of balance by %.1f %% of the weight of "
                          "body and loads",
                          POSITIONS[i], text_of(t, t->exercise->id), reactions->imbalance * 100);
    why_problems_hint(t->inspection.problems,
                      "nothing carries %.0f N forward, %.0f N to the left, %.0f N up, and moments "
                      "of %.0f N m to the right, %.0f N m forward",
                      reactions->residual.x, reactions->residual.y, reactions->residual.z,
                      reactions->residual_moment.x, reactions->residual_moment.y);
  }
}

/// How far apart the feet stand that the floor carries at `point`; NAN where it does not carry
/// both.
static double feet_apart(const trial* t, const char* point, const why_reactions* reactions) {
  double at[WHY_SIDES] = {NAN, NAN};
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* each = &reactions->at[i];
    bool both = strcmp(text_of(t, each->contact->side), "both") == 0;
    if (both && !each->pull && strcmp(text_of(t, each->contact->point), point) == 0 &&
        isnan(at[each->side]))
      at[each->side] = each->at.y;
  }
  return fabs(at[WHY_WORKING] - at[WHY_OTHER]);
}

static void find_sliding_feet(const trial* t) {
  if (t->exercise->unilateral || isnan(feet_apart(t, "ball", &t->statics[0].reactions)))
    return;
  double least = INFINITY;
  double most = -INFINITY;
  for (int i = 0; i < WHY_POSITIONS; i++) {
    double apart = feet_apart(t, "heel", &t->statics[i].reactions);
    least = fmin(least, apart);
    most = fmax(most, apart);
  }
  if (most - least > FEET_TOLERANCE_M)
    why_inspection_report(&t->inspection, t->exercise->place,
                          "the feet of \"%s\" stand on the floor, but are between %.0f and %.0f cm "
                          "apart",
                          text_of(t, t->exercise->id), least * 100, most * 100);
}

/// What each position asks of one action.
typedef struct {
  int asked; ///< In how many positions it is worth naming.
  double nm[WHY_POSITIONS];
} asking;

static asking asking_of(const trial* t, const why_action* action) {
  asking made = {0};
  for (int i = 0; i < WHY_POSITIONS; i++) {
    why_demand demand = why_demand_of(t->model, &t->statics[i], action, WHY_WORKING);
    if (demand.there && !demand.held)
      made.nm[i] = demand.body + demand.load;
    made.asked += made.nm[i] >= t->model->least_demand_nm;
  }
  return made;
}

static const why_undemanded* find_reason(const why_exercise* exercise, why_symbol action) {
  for (size_t i = 0; i < exercise->undemanded.count; i++)
    if (exercise->undemanded.at[i].action == action)
      return &exercise->undemanded.at[i];
  return NULL;
}

/// Run `find` over the actions that the exercise moves.
static void each_move(const trial* t, void (*find)(const trial* t, const why_action* action,
                                                   const why_undemanded* reason)) {
  for (size_t i = 0; i < t->exercise->moves.count; i++) {
    const why_action* action =
        why_action_find(&t->model->tables->anatomy, t->exercise->moves.at[i]);
    if (action)
      find(t, action, find_reason(t->exercise, action->id));
  }
}

static void find_demand(const trial* t, const why_action* action, const why_undemanded* reason) {
  asking found = asking_of(t, action);
  if (reason || found.asked >= DEMANDED_POSITIONS)
    return;
  why_inspection_report(&t->inspection, t->exercise->place,
                        "\"%s\" moves %s, but asks for it in %d of its positions: %.1f, %.1f and "
                        "%.1f N m",
                        text_of(t, t->exercise->id), text_of(t, action->id), found.asked,
                        found.nm[0], found.nm[1], found.nm[2]);
  why_problems_hint(t->inspection.problems,
                    "mend posture, load or moves, or say in <not-demanded> why it is trained");
}

static void find_demands(const trial* t) {
  each_move(t, find_demand);
}

static void find_excuse(const trial* t, const why_action* action, const why_undemanded* reason) {
  asking found = asking_of(t, action);
  if (reason && found.asked < DEMANDED_POSITIONS)
    why_inspection_report(&t->inspection, reason->place,
                          "\"%s\" moves %s without asking for it (%.1f, %.1f and %.1f N m): %s",
                          text_of(t, t->exercise->id), text_of(t, action->id), found.nm[0],
                          found.nm[1], found.nm[2], reason->reason);
}

static void find_excuses(const trial* t) {
  each_move(t, find_excuse);
}

static bool is_moved(const why_exercise* exercise, why_symbol action) {
  for (size_t i = 0; i < exercise->moves.count; i++)
    if (exercise->moves.at[i] == action)
      return true;
  return false;
}

static void find_idle_excuses(const trial* t) {
  for (size_t i = 0; i < t->exercise->undemanded.count; i++) {
    const why_undemanded* reason = &t->exercise->undemanded.at[i];
    const why_action* action = why_action_find(&t->model->tables->anatomy, reason->action);
    if (!is_moved(t->exercise, reason->action))
      why_inspection_report(&t->inspection, reason->place, "\"%s\" does not move %s",
                            text_of(t, t->exercise->id), text_of(t, reason->action));
    else if (action && asking_of(t, action).asked >= DEMANDED_POSITIONS)
      why_inspection_report(&t->inspection, reason->place, "\"%s\" does ask for %s",
                            text_of(t, t->exercise->id), text_of(t, reason->action));
  }
}

/// Whether a head has a lever for one of the moves in that posture.
static bool could_help(const trial* t, const why_head* head, const why_posture* posture) {
  for (size_t i = 0; i < t->exercise->moves.count; i++) {
    const why_action* action =
        why_action_find(&t->model->tables->anatomy, t->exercise->moves.at[i]);
    if (action && why_length_arm(t->model->frame, head, posture, action) >= LEAST_ARM_M)
      return true;
  }
  return false;
}

/// The coordinate by which a posture leaves the ranges of a head's path.
static const char* what_leaves(const trial* t, const why_head* head, const why_posture* posture) {
  const double ROUNDING_DEG = 1e-6;
  for (size_t i = 0; i < head->path.ranges.count; i++) {
    const why_span* span = &head->path.ranges.at[i];
    int number = why_frame_number(t->model->frame, span->coordinate);
    double deg = number < 0 ? span->least_deg : posture->rad[number] * 180 / acos(-1);
    if (deg < span->least_deg - ROUNDING_DEG || deg > span->most_deg + ROUNDING_DEG)
      return text_of(t, span->coordinate);
  }
  return "the region of the shoulder";
}

/// How a head that could help leaves its path in one of the positions, or NULL.
static const char* path_left(const trial* t, const why_head* head) {
  for (int i = 0; i < WHY_POSITIONS; i++) {
    bool outside = false;
    why_posture posture = why_posture_of(t->model->frame, &t->exercise->positions[i], false);
    why_length_at(t->model->frame, head, &posture, &outside);
    if (outside && could_help(t, head, &posture))
      return what_leaves(t, head, &posture);
  }
  return NULL;
}

static void find_outside(const trial* t) {
  const why_anatomy* anatomy = &t->model->tables->anatomy;
  why_buffer names = {.arena = t->inspection.scratch};
  size_t count = 0;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    const char* by = path_left(t, head);
    if (by && count++ < HEADS_NAMED)
      why_buffer_print(&names, "%s%s (%s)", count > 1 ? ", " : "", text_of(t, head->id), by);
  }
  if (count)
    why_inspection_report(&t->inspection, t->exercise->place,
                          "\"%s\" takes %zu of its possible movers out of the range in which their "
                          "paths were fitted; they are kept at its edge: %s%s",
                          text_of(t, t->exercise->id), count, why_buffer_text(&names),
                          count > HEADS_NAMED ? " ..." : "");
}

/// A check of one exercise. `check.run` stays NULL: the statics are found once for all rows.
typedef struct {
  why_check check;
  void (*find)(const trial* t);
} row;

static const row ROWS[] = {
    {{"posture-balance", WHY_ERROR, NULL, NULL,
      "a position whose supports leave more of the weight uncarried than the model tolerates"},
     find_imbalance},
    {{"posture-stance", WHY_WARNING, NULL, NULL,
      "feet that heel and ball carry and that would slide apart from position to position"},
     find_sliding_feet},
    {{"move-demand", WHY_WARNING, NULL, NULL,
      "an action that is moved and asked for in fewer than two positions, without a reason given"},
     find_demands},
    {{"move-not-demanded", WHY_NOTE, NULL, NULL,
      "an action that is moved and hardly asked for, and the reason given"},
     find_excuses},
    {{"not-demanded-idle", WHY_WARNING, NULL, NULL,
      "a reason for not asking for an action that is not moved, or is asked for"},
     find_idle_excuses},
    {{"path-outside", WHY_NOTE, NULL, NULL,
      "an exercise that takes possible movers out of the range of their paths"},
     find_outside},
};

enum { ROW_COUNT = sizeof ROWS / sizeof *ROWS };

/// Segments, joints and constants that the tree of the body takes are not all there.
static const why_check NO_BODY = {
    "body-model", WHY_ERROR, NULL, NULL,
    "a segment, joint or constant that is missing and without which there is no body"};

const why_check* why_body_checks_at(size_t index) {
  return index < ROW_COUNT ? &ROWS[index].check : index == ROW_COUNT ? &NO_BODY : NULL;
}

static void check_exercise(trial* t) {
  for (int i = 0; i < WHY_POSITIONS; i++)
    why_statics_find(t->model, t->exercise, i, 1, &t->statics[i]);
  for (size_t i = 0; i < ROW_COUNT; i++) {
    t->inspection.check = &ROWS[i].check;
    ROWS[i].find(t);
  }
}

why_status why_body_check(const why_tables* tables, why_problems* problems) {
  why_arena* arena = why_arena_scratch(tables->arena);
  trial t = {.inspection = {.tables = tables, .scratch = arena, .problems = problems},
             .statics = WHY_NEW_ARRAY(arena, why_statics, WHY_POSITIONS)};
  if (why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &t.model) != WHY_OK) {
    t.inspection.check = &NO_BODY;
    why_inspection_report(&t.inspection,
                          (why_place){.file = "evidence/measurements/model-constants.xml"},
                          "a constant of the body model, or a segment or joint of its tree in "
                          "segments.xml, is missing");
    return why_problems_status(problems);
  }
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    t.exercise = &tables->exercises.rows.at[i];
    check_exercise(&t);
  }
  return why_problems_status(problems);
}
