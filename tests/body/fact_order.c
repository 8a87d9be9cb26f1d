// SPDX-License-Identifier: GPL-3.0-or-later
// Facts that rank heads: by a figure of theirs, or by a moment arm.
#include "fact.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/// What an element ranks by: its figure, or the arm along an action in its posture.
static double ranked(fact_bench* bench, const xmlNode* n, why_symbol of) {
  const char* by = why_xml_string(bench->reader, n, "by");
  double found = 0;
  if (strcmp(by, "arm") == 0) {
    why_posture posture = fact_posture(bench, why_xml_first(n, "at"));
    found = fact_arm_mm(bench, of, why_xml_symbol(bench->reader, n, "along"), &posture);
  } else {
    found = fact_figure(bench, of, by);
  }
  return found;
}

static bool in_order(fact_bench* bench, const xmlNode* n) {
  why_symbol_list ids = why_xml_symbols(bench->reader, n, "greatest-first");
  bool holds = ids.count > 1;
  double before = INFINITY;
  for (size_t i = 0; i < ids.count; i++) {
    double found = ranked(bench, n, ids.at[i]);
    why_buffer_print(&bench->told, " %.3g", found);
    holds = holds && found < before;
    before = found;
  }
  return holds;
}

/// Two heads whose figures differ by no more than `within`.
static bool is_near(fact_bench* bench, const xmlNode* n) {
  why_symbol_list ids = why_xml_symbols(bench->reader, n, "heads");
  cr_assert_eq(ids.count, 2);
  double difference = ranked(bench, n, ids.at[0]) - ranked(bench, n, ids.at[1]);
  why_buffer_print(&bench->told, " differ by %.3g", difference);
  return fabs(difference) <= why_xml_number(bench->reader, n, "within", NAN);
}

/// Sum over a group of greatest force times arm, N m.
static double moment(fact_bench* bench, const xmlNode* n) {
  why_posture posture = fact_posture(bench, why_xml_first(n, "at"));
  const why_group* group =
      why_group_find(&bench->tables->anatomy, why_xml_symbol(bench->reader, n, "of"));
  cr_assert_not_null(group);
  double sum = 0;
  for (size_t i = 0; i < group->heads.count; i++)
    sum +=
        fact_head(bench, group->heads.at[i])->force_n.value / 1000 *
        fact_arm_mm(bench, group->heads.at[i], why_xml_symbol(bench->reader, n, "along"), &posture);
  why_buffer_print(&bench->told, " %.1f N m", sum);
  return sum;
}

bool fact_order(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* greater = why_xml_first(fact, "moment");
  if (greater)
    return moment(bench, greater) > moment(bench, why_xml_next(greater, "moment"));
  bool holds = why_xml_first(fact, "order") != NULL;
  for (const xmlNode* n = why_xml_first(fact, "order"); n; n = why_xml_next(n, "order"))
    holds = in_order(bench, n) && holds;
  for (const xmlNode* n = why_xml_first(fact, "near"); n; n = why_xml_next(n, "near"))
    holds = is_near(bench, n) && holds;
  return holds;
}

static bool holds_id(why_symbol_list list, why_symbol id) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == id)
      return true;
  return false;
}

/// The heads of the regions named, those of the groups named, and these groups themselves: a head
/// that stands in a named group is ranked with the group.
static why_symbol_list competitors(fact_bench* bench, const xmlNode* n) {
  why_arena* arena = bench->reader->arena;
  why_symbol_list regions = why_xml_symbols(bench->reader, n, "regions");
  why_symbol_list groups = why_xml_symbols(bench->reader, n, "groups");
  why_symbol_list all = why_xml_symbols(bench->reader, n, "among");
  for (size_t i = 0; i < groups.count; i++)
    *WHY_LIST_ADD(arena, all) = groups.at[i];
  for (size_t i = 0; i < bench->tables->anatomy.heads.count; i++) {
    const why_head* head = &bench->tables->anatomy.heads.at[i];
    bool in_group = false;
    for (size_t g = 0; g < groups.count; g++)
      in_group = in_group ||
                 holds_id(why_group_find(&bench->tables->anatomy, groups.at[g])->heads, head->id);
    if (holds_id(regions, head->region) && !in_group)
      *WHY_LIST_ADD(arena, all) = head->id;
  }
  return all;
}

/// Whether every id of `ends` outranks (`sign` 1) or is outranked by (-1) every other competitor.
static bool stand_out(fact_bench* bench, const xmlNode* n, why_symbol_list ends,
                      why_symbol_list all, double sign) {
  bool holds = true;
  for (size_t i = 0; i < ends.count; i++) {
    double end = ranked(bench, n, ends.at[i]);
    why_buffer_print(&bench->told, " %.3g", end);
    for (size_t j = 0; j < all.count; j++) {
      double other = holds_id(ends, all.at[j]) ? NAN : ranked(bench, n, all.at[j]);
      if (sign * other >= sign * end) {
        holds = false;
        why_buffer_print(&bench->told, " but %s %.3g",
                         why_symbols_text(bench->tables->symbols, all.at[j]), other);
      }
    }
  }
  return holds;
}

bool fact_top(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "top");
  why_symbol_list all = competitors(bench, n);
  why_symbol_list greatest = why_xml_symbols(bench->reader, n, "greatest");
  why_symbol_list smallest = why_xml_symbols(bench->reader, n, "smallest");
  bool top = greatest.count > 0 && all.count > greatest.count;
  top = stand_out(bench, n, greatest, all, 1) && top;
  return stand_out(bench, n, smallest, all, -1) && top;
}

/// The formula gives the volume stated, and every volume that a note derives from it by a share
/// ("share 0.0147 of the limb volume") agrees with it.
bool fact_volume_rule(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "volume-rule");
  double limb = why_xml_number(bench->reader, n, "slope", NAN) *
                    why_xml_number(bench->reader, n, "mass-kg", NAN) *
                    why_xml_number(bench->reader, n, "stature-m", NAN) +
                why_xml_number(bench->reader, n, "constant", NAN);
  bool holds = fabs(limb - why_xml_number(bench->reader, n, "cm3", NAN)) < 0.01;
  size_t derived = 0;
  for (size_t i = 0; i < bench->tables->anatomy.heads.count; i++) {
    const why_head* head = &bench->tables->anatomy.heads.at[i];
    double share = 0;
    if (sscanf(head->volume_cm3.note, "share %lf of the limb volume, for", &share) != 1)
      continue;
    derived++;
    if (fabs(head->volume_cm3.value - share * limb) > 0.06 + 0.00005 * limb) {
      holds = false;
      why_buffer_print(&bench->told, " %s", why_symbols_text(bench->tables->symbols, head->id));
    }
  }
  why_buffer_print(&bench->told, " %.2f cm3, %zu heads by share", limb, derived);
  return holds && derived >= 10;
}
