// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of rules/anatomy/.
#include "reason.h"

#include <math.h>

static void give_acts(why_giver* giver, const why_head* head) {
  for (size_t i = 0; i < head->acts.count; i++) {
    const why_acts* acts = &head->acts.at[i];
    if (isfinite(acts->least_mm) && isfinite(acts->most_mm))
      WHY_GIVE(giver, "acts", acts->place, WHY_SYM(head->id), WHY_SYM(acts->action),
               WHY_NUM(acts->least_mm), WHY_NUM(acts->most_mm));
  }
}

static bool is_crossed(const why_head* head, why_symbol coordinate) {
  for (size_t i = 0; i < head->crosses.count; i++)
    if (head->crosses.at[i] == coordinate)
      return true;
  for (unsigned i = 0; i < head->path.coordinate_count; i++)
    if (head->path.coordinates[i] == coordinate)
      return true;
  return false;
}

/// A head crosses the joint of an action when its path depends on a coordinate of the action.
static void give_crosses(why_giver* giver, const why_head* head) {
  const why_anatomy* anatomy = &giver->tables->anatomy;
  for (size_t i = 0; i < anatomy->actions.count; i++) {
    const why_action* action = &anatomy->actions.at[i];
    bool crossed = false;
    for (size_t j = 0; j < action->along.count; j++)
      crossed = crossed || is_crossed(head, action->along.at[j]);
    if (crossed)
      WHY_GIVE(giver, "crosses", head->place, WHY_SYM(head->id), WHY_SYM(action->id));
  }
}

void why_given_anatomy(why_giver* giver) {
  const why_anatomy* anatomy = &giver->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    give_acts(giver, head);
    give_crosses(giver, head);
    if (isfinite(head->volume_cm3.value))
      WHY_GIVE(giver, "volume", head->volume_cm3.place, WHY_SYM(head->id),
               WHY_NUM(head->volume_cm3.value));
  }
  for (size_t i = 0; i < anatomy->groups.count; i++) {
    const why_group* group = &anatomy->groups.at[i];
    for (size_t j = 0; j < group->heads.count; j++)
      WHY_GIVE(giver, "in-group", group->place, WHY_SYM(group->heads.at[j]), WHY_SYM(group->id));
  }
}
