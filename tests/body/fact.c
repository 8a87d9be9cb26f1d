// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of check, and what they all compute: postures, lengths, arms, figures.
#include "fact.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static const struct {
  const char* check;
  bool (*holds)(fact_bench* bench, const xmlNode* fact);
} KINDS[] = {
    {"crosses-exactly", fact_crosses_exactly},
    {"crosses-only", fact_crosses_only},
    {"length-change", fact_length_change},
    {"length-difference", fact_length_change},
    {"greater-change", fact_greater_change},
    {"longest-shortest", fact_extreme},
    {"arm-range", fact_arms},
    {"sign", fact_arms},
    {"signs", fact_arms},
    {"signs-at", fact_arms},
    {"sign-change", fact_arms},
    {"arm-order", fact_greater_arms},
    {"orders-at", fact_greater_arms},
    {"peak-arm", fact_peak},
    {"order", fact_order},
    {"top", fact_top},
    {"formula", fact_volume_rule},
};

const char* fact_check_at(size_t index) {
  return index < sizeof KINDS / sizeof *KINDS ? KINDS[index].check : NULL;
}

bool fact_holds(fact_bench* bench, const xmlNode* fact) {
  const char* check = why_xml_string(bench->reader, fact, "check");
  bench->told = (why_buffer){.arena = bench->reader->arena};
  for (size_t i = 0; fact_check_at(i); i++)
    if (strcmp(fact_check_at(i), check) == 0)
      return KINDS[i].holds(bench, fact);
  cr_assert(false, "no check is called %s", check);
  return false;
}

typedef struct {
  const fact_bench* bench;
  why_posture* posture;
  const char* only; ///< Set this coordinate only; NULL: all.
} setting;

static void set_angle(void* user, const char* name, const char* value) {
  setting* at = user;
  double deg = 0;
  cr_assert(why_parse_number(value, &deg));
  why_symbol coordinate = why_symbols_find(at->bench->frame->symbols, name);
  cr_assert(why_frame_number(at->bench->frame, coordinate) >= 0, "no coordinate %s", name);
  if (!at->only || strcmp(at->only, name) == 0)
    why_posture_set_deg(at->bench->frame, at->posture, coordinate, deg);
}

why_posture fact_posture(const fact_bench* bench, const xmlNode* element) {
  why_posture made = {0};
  setting at = {.bench = bench, .posture = &made};
  if (element)
    why_xml_each_attribute(element, set_angle, &at);
  why_posture_complete(bench->frame, &made);
  at.only = "scapular-upward-rotation"; // A fact may fix it against the rhythm.
  if (element)
    why_xml_each_attribute(element, set_angle, &at);
  return made;
}

const why_head* fact_head(const fact_bench* bench, why_symbol id) {
  const why_head* head = why_head_find(&bench->tables->anatomy, id);
  cr_assert_not_null(head, "no head %s", why_symbols_text(bench->tables->symbols, id));
  return head;
}

double fact_length_cm(const fact_bench* bench, const why_head* head, const why_posture* posture) {
  return 100 * why_length_at(bench->frame, head, posture, NULL);
}

static double arm_of_head(const fact_bench* bench, const why_head* head, why_symbol along,
                          const why_posture* posture) {
  const why_action* action = why_action_find(&bench->tables->anatomy, along);
  if (action)
    return 1000 * why_length_arm(bench->frame, head, posture, action);
  cr_assert_not_null(why_coordinate_find(&bench->tables->anatomy, along), "no action %s",
                     why_symbols_text(bench->tables->symbols, along));
  return -1000 * why_length_slope(bench->frame, head, posture, along);
}

double fact_arm_mm(const fact_bench* bench, why_symbol of, why_symbol along,
                   const why_posture* posture) {
  const why_group* group = why_group_find(&bench->tables->anatomy, of);
  if (!group)
    return arm_of_head(bench, fact_head(bench, of), along, posture);
  double moment = 0;
  double force = 0;
  for (size_t i = 0; i < group->heads.count; i++) {
    const why_head* head = fact_head(bench, group->heads.at[i]);
    moment += head->force_n.value * arm_of_head(bench, head, along, posture);
    force += head->force_n.value;
  }
  return moment / force;
}

static double figure_of_head(const why_head* head, const char* by) {
  if (strcmp(by, "volume") == 0)
    return head->volume_cm3.value;
  if (strcmp(by, "cross-section") == 0)
    return head->cross_section_cm2.value;
  if (strcmp(by, "fibre-length") == 0)
    return head->fibre_length_cm.value;
  cr_assert_str_eq(by, "fast-fibres");
  return head->fast_fibre_share.value;
}

double fact_figure(const fact_bench* bench, why_symbol of, const char* by) {
  const why_group* group = why_group_find(&bench->tables->anatomy, of);
  if (!group)
    return figure_of_head(fact_head(bench, of), by);
  double sum = 0;
  for (size_t i = 0; i < group->heads.count; i++)
    sum += figure_of_head(fact_head(bench, group->heads.at[i]), by);
  return sum;
}
