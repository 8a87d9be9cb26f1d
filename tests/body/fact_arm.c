// SPDX-License-Identifier: GPL-3.0-or-later
// Facts on moment arms.
#include "fact.h"

#include <criterion/criterion.h>
#include <math.h>

/// The arm of an <arm> element in one posture.
static double arm_at(fact_bench* bench, const xmlNode* arm, const why_posture* posture) {
  double found = fact_arm_mm(bench, why_xml_symbol(bench->reader, arm, "of"),
                             why_xml_symbol(bench->reader, arm, "along"), posture);
  why_buffer_print(&bench->told, " %.1f", found);
  return found;
}

static bool agrees(fact_bench* bench, const xmlNode* arm, const why_posture* posture) {
  double found = arm_at(bench, arm, posture);
  double sign = why_xml_number(bench->reader, arm, "sign", NAN);
  if (!isnan(sign))
    return found * sign > 0;
  return found >= why_xml_number(bench->reader, arm, "low-mm", -INFINITY) &&
         found <= why_xml_number(bench->reader, arm, "high-mm", INFINITY);
}

/// Every 5 degrees of an <over>.
static bool agrees_over(fact_bench* bench, const xmlNode* arm, const xmlNode* over) {
  why_symbol coordinate = why_xml_symbol(bench->reader, over, "coordinate");
  double from = why_xml_number(bench->reader, over, "from-deg", NAN);
  double to = why_xml_number(bench->reader, over, "to-deg", NAN);
  bool holds = from < to;
  for (double deg = from; deg <= to; deg += 5) {
    why_posture posture = {0};
    why_posture_set_deg(bench->frame, &posture, coordinate, deg);
    holds = agrees(bench, arm, &posture) && holds;
  }
  return holds;
}

bool fact_arms(fact_bench* bench, const xmlNode* fact) {
  bool holds = why_xml_first(fact, "arm") != NULL;
  for (const xmlNode* n = why_xml_first(fact, "arm"); n; n = why_xml_next(n, "arm")) {
    const xmlNode* over = why_xml_first(n, "over");
    why_posture posture = fact_posture(bench, why_xml_first(n, "at"));
    holds = (over ? agrees_over(bench, n, over) : agrees(bench, n, &posture)) && holds;
  }
  return holds;
}

bool fact_greater_arms(fact_bench* bench, const xmlNode* fact) {
  bool holds = why_xml_first(fact, "greater-arm") != NULL;
  for (const xmlNode* n = why_xml_first(fact, "greater-arm"); n;
       n = why_xml_next(n, "greater-arm")) {
    const xmlNode* greater = why_xml_first(n, "arm");
    const xmlNode* smaller = why_xml_next(greater, "arm");
    why_posture a = fact_posture(bench, why_xml_first(greater, "at"));
    why_posture b = fact_posture(bench, why_xml_first(smaller, "at"));
    holds = arm_at(bench, greater, &a) > arm_at(bench, smaller, &b) && holds;
  }
  return holds;
}

bool fact_peak(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "peak");
  why_symbol id = why_xml_symbol(bench->reader, n, "coordinate");
  const why_coordinate* coordinate = why_coordinate_find(&bench->tables->anatomy, id);
  cr_assert_not_null(coordinate);
  double peak = -INFINITY;
  double where = NAN;
  for (double deg = coordinate->least_deg; deg <= coordinate->most_deg; deg++) {
    why_posture posture = {0};
    why_posture_set_deg(bench->frame, &posture, id, deg);
    double arm = fact_arm_mm(bench, why_xml_symbol(bench->reader, n, "of"),
                             why_xml_symbol(bench->reader, n, "along"), &posture);
    if (arm > peak) {
      peak = arm;
      where = deg;
    }
  }
  why_buffer_print(&bench->told, " %.1f at %.0f", peak, where);
  return peak >= why_xml_number(bench->reader, n, "low-mm", NAN) &&
         peak <= why_xml_number(bench->reader, n, "high-mm", NAN) &&
         where >= why_xml_number(bench->reader, n, "from-deg", NAN) &&
         where <= why_xml_number(bench->reader, n, "to-deg", NAN);
}
