// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of rules/anatomy: that ids are used once and lead somewhere. check_paths.c looks at the
// paths.
#include "check_rows.h"

#include <math.h>
#include <string.h>

typedef struct {
  why_symbol id;
  why_place place;
} owned_id;

typedef WHY_LIST(owned_id) owned_ids;

static void add_id(const why_inspection* inspection, owned_ids* ids, why_symbol id,
                   why_place place) {
  *WHY_LIST_ADD(inspection->scratch, *ids) = (owned_id){id, place};
}

static void report_twice(const why_inspection* inspection, const owned_ids* ids, const char* kind) {
  for (size_t i = 0; i < ids->count; i++)
    for (size_t j = 0; j < ids->count; j++)
      if (ids->at[i].id == ids->at[j].id &&
          why_place_compare(&ids->at[j].place, &ids->at[i].place) < 0) {
        why_inspection_report(inspection, ids->at[i].place, "\"%s\" is already a %s",
                              why_inspection_text(inspection, ids->at[i].id), kind);
        why_problems_also(inspection->problems, ids->at[j].place);
        break;
      }
}

/// Heads and groups share the names that goals are told by; an action may be called like its
/// coordinate.
static void check_twice(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  owned_ids coordinates = {0};
  owned_ids actions = {0};
  owned_ids heads = {0};
  owned_ids methods = {0};
  for (size_t i = 0; i < anatomy->coordinates.count; i++)
    add_id(inspection, &coordinates, anatomy->coordinates.at[i].id,
           anatomy->coordinates.at[i].place);
  for (size_t i = 0; i < anatomy->actions.count; i++)
    add_id(inspection, &actions, anatomy->actions.at[i].id, anatomy->actions.at[i].place);
  for (size_t i = 0; i < anatomy->heads.count; i++)
    add_id(inspection, &heads, anatomy->heads.at[i].id, anatomy->heads.at[i].place);
  for (size_t i = 0; i < anatomy->groups.count; i++)
    add_id(inspection, &heads, anatomy->groups.at[i].id, anatomy->groups.at[i].place);
  for (size_t i = 0; i < anatomy->methods.count; i++)
    add_id(inspection, &methods, anatomy->methods.at[i].id, anatomy->methods.at[i].place);
  report_twice(inspection, &coordinates, "coordinate");
  report_twice(inspection, &actions, "action");
  report_twice(inspection, &heads, "head or group");
  report_twice(inspection, &methods, "method");
}

static bool lists(why_symbol_list list, why_symbol id) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == id)
      return true;
  return false;
}

static void check_head_group(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    const why_group* group = why_group_find(anatomy, head->group);
    if (group && lists(group->heads, head->id))
      continue;
    why_inspection_report(inspection, head->place, "head \"%s\" is shown with \"%s\", which %s",
                          why_inspection_text(inspection, head->id),
                          why_inspection_text(inspection, head->group),
                          group ? "does not list it" : "is no group");
    if (!group)
      why_hint_words(inspection, why_inspection_text(inspection, head->group), WHY_MEANS_GROUP);
  }
}

static void check_group_head(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->groups.count; i++) {
    const why_group* group = &anatomy->groups.at[i];
    for (size_t j = 0; j < group->heads.count; j++) {
      if (why_head_find(anatomy, group->heads.at[j]))
        continue;
      const char* name = why_inspection_text(inspection, group->heads.at[j]);
      why_inspection_report(inspection, group->place, "group \"%s\" names \"%s\", which is no head",
                            why_inspection_text(inspection, group->id), name);
      why_hint_words(inspection, name, WHY_MEANS_HEAD);
    }
  }
}

/// Whether a coordinate of a path or direction is one of the files, or a part of the pair.
static bool is_coordinate(const why_anatomy* anatomy, why_symbol id) {
  return why_coordinate_find(anatomy, id) ||
         (id && (id == anatomy->shoulder.cosine_part || id == anatomy->shoulder.sine_part));
}

static void check_head_crosses(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    for (size_t j = 0; j < head->crosses.count; j++)
      if (!why_coordinate_find(anatomy, head->crosses.at[j]))
        why_inspection_report(inspection, head->place,
                              "head \"%s\" crosses \"%s\", which is no coordinate",
                              why_inspection_text(inspection, head->id),
                              why_inspection_text(inspection, head->crosses.at[j]));
  }
}

/// A part of the pair is crossed with the elevation that it is made of.
static bool crosses(const why_anatomy* anatomy, const why_head* head, why_symbol coordinate) {
  if (coordinate == anatomy->shoulder.cosine_part || coordinate == anatomy->shoulder.sine_part)
    coordinate = anatomy->shoulder.elevation;
  return lists(head->crosses, coordinate);
}

static void check_acts(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    for (size_t j = 0; j < head->acts.count; j++) {
      const why_acts* acts = &head->acts.at[j];
      const char* name = why_inspection_text(inspection, acts->action);
      const why_action* action = why_action_find(anatomy, acts->action);
      if (!action) {
        why_inspection_report(inspection, acts->place, "\"%s\" is no action", name);
        why_hint_words(inspection, name, WHY_MEANS_ACTION);
        continue;
      }
      for (size_t k = 0; k < action->along.count; k++)
        if (!crosses(anatomy, head, action->along.at[k]))
          why_inspection_report(inspection, acts->place, "\"%s\" does not cross what %s moves",
                                why_inspection_text(inspection, head->id), name);
    }
  }
}

/// An arm was computed, and then it has figures; or books say so, and then nobody computed it.
static void check_acts_basis(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++)
    for (size_t j = 0; j < anatomy->heads.at[i].acts.count; j++) {
      const why_acts* acts = &anatomy->heads.at[i].acts.at[j];
      bool computed = strcmp(why_inspection_text(inspection, acts->basis), "computed") == 0;
      if (computed == isnan(acts->least_mm) || acts->least_mm > acts->most_mm)
        why_inspection_report(inspection, acts->place,
                              computed ? "a computed action needs its least and most arm"
                                       : "an arm that stands here was computed");
    }
}

static void check_action_opposite(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->actions.count; i++) {
    const why_action* action = &anatomy->actions.at[i];
    const why_action* opposite = why_action_find(anatomy, action->opposite);
    if (!opposite || opposite->opposite != action->id || opposite == action)
      why_inspection_report(inspection, action->place,
                            "action \"%s\" has no opposite that has it as its own",
                            why_inspection_text(inspection, action->id));
    for (size_t j = 0; j < action->along.count; j++)
      if (!is_coordinate(anatomy, action->along.at[j]))
        why_inspection_report(inspection, action->place,
                              "action \"%s\" goes along \"%s\", which is no coordinate",
                              why_inspection_text(inspection, action->id),
                              why_inspection_text(inspection, action->along.at[j]));
  }
}

static void check_coordinate_range(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->coordinates.count; i++) {
    const why_coordinate* row = &anatomy->coordinates.at[i];
    if (!(row->least_deg < row->most_deg) || row->least_deg > 0 || row->most_deg < 0)
      why_inspection_report(inspection, row->place,
                            "the range of \"%s\" is empty or leaves out 0, upright standing",
                            why_inspection_text(inspection, row->id));
  }
}

static void check_shoulder(const why_inspection* inspection) {
  const why_shoulder* shoulder = &inspection->tables->anatomy.shoulder;
  for (size_t i = 1; i < shoulder->corners.count; i++)
    if (!(shoulder->corners.at[i - 1].plane_deg < shoulder->corners.at[i].plane_deg))
      why_inspection_report(inspection, shoulder->place,
                            "corners of the region must go from the least plane to the most");
  for (size_t i = 0; i < shoulder->rotations.count; i++)
    if (!(shoulder->rotations.at[i].least_deg < shoulder->rotations.at[i].most_deg))
      why_inspection_report(inspection, shoulder->place, "a rotation of the region is empty");
}

why_check_rows why_anatomy_checks = {
    {"anatomy-twice", WHY_ERROR, check_twice, "files",
     "an id that two heads, groups, actions, coordinates or methods share"},
    {"head-group", WHY_ERROR, check_head_group, "files", "a head without a group that lists it"},
    {"group-head", WHY_ERROR, check_group_head, "files", "a group that names an unknown head"},
    {"head-crosses", WHY_ERROR, check_head_crosses, "files",
     "a head that crosses an unknown coordinate"},
    {"head-acts", WHY_ERROR, check_acts, "head-crosses",
     "an action that is not declared or lies at a joint that the head does not cross"},
    {"acts-basis", WHY_ERROR, check_acts_basis, NULL,
     "an action whose basis and moment arm do not go together"},
    {"action-opposite", WHY_ERROR, check_action_opposite, "files",
     "an action along no coordinate, or without a mutual opposite"},
    {"coordinate-range", WHY_ERROR, check_coordinate_range, NULL,
     "a useful range that is empty or leaves out upright standing"},
    {"shoulder-region", WHY_ERROR, check_shoulder, NULL,
     "a region of the shoulder whose corners or rotations are out of order"},
    {0},
};
