// SPDX-License-Identifier: GPL-3.0-or-later
// Facts on which joints a head crosses and on how long it is.
#include "fact.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static const char* name_of(const fact_bench* bench, why_symbol id) {
  return why_symbols_text(bench->tables->symbols, id);
}

static bool holds_id(why_symbol_list list, why_symbol id) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == id)
      return true;
  return false;
}

bool fact_crosses_exactly(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "crossing");
  why_symbol_list coordinates = why_xml_symbols(bench->reader, n, "coordinates");
  why_symbol_list heads = why_xml_symbols(bench->reader, n, "heads");
  bool holds = heads.count > 0;
  for (size_t i = 0; i < bench->tables->anatomy.heads.count; i++) {
    const why_head* head = &bench->tables->anatomy.heads.at[i];
    bool crosses = true;
    for (size_t j = 0; j < coordinates.count; j++)
      crosses = crosses && holds_id(head->crosses, coordinates.at[j]);
    if (crosses != holds_id(heads, head->id)) {
      holds = false;
      why_buffer_print(&bench->told, " %s", name_of(bench, head->id));
    }
  }
  return holds;
}

bool fact_crosses_only(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "crossing");
  why_symbol_list coordinates = why_xml_symbols(bench->reader, n, "coordinates");
  why_symbol_list heads = why_xml_symbols(bench->reader, n, "heads");
  bool holds = heads.count > 0;
  for (size_t i = 0; i < heads.count; i++) {
    const why_head* head = fact_head(bench, heads.at[i]);
    if (head->crosses.count != 1 || head->crosses.at[0] != coordinates.at[0]) {
      holds = false;
      why_buffer_print(&bench->told, " %s", name_of(bench, head->id));
    }
  }
  return holds;
}

bool fact_length_change(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "change");
  why_posture from = fact_posture(bench, why_xml_first(n, "from"));
  why_posture to = fact_posture(bench, why_xml_first(n, "to"));
  double low = why_xml_number(bench->reader, n, "low-cm", NAN);
  double high = why_xml_number(bench->reader, n, "high-cm", NAN);
  double share = why_xml_number(bench->reader, n, "per-deg", 1) /
                 why_xml_number(bench->reader, n, "over-deg", 1);
  why_symbol_list heads = why_xml_symbols(bench->reader, n, "heads");
  why_symbol_list unchanged = why_xml_symbols(bench->reader, n, "unchanged");
  bool holds = heads.count > 0;
  for (size_t i = 0; i < heads.count + unchanged.count; i++) {
    bool changes = i < heads.count;
    const why_head* head = fact_head(bench, changes ? heads.at[i] : unchanged.at[i - heads.count]);
    double change = share * (fact_length_cm(bench, head, &to) - fact_length_cm(bench, head, &from));
    why_buffer_print(&bench->told, " %.2f", change);
    holds = holds && (changes ? change >= low && change <= high : fabs(change) < 0.001);
  }
  return holds;
}

static double change_cm(fact_bench* bench, const why_head* head, why_symbol coordinate,
                        double deg) {
  why_posture zero = {0};
  why_posture bent = {0};
  why_posture_set_deg(bench->frame, &bent, coordinate, deg);
  double change = fact_length_cm(bench, head, &bent) - fact_length_cm(bench, head, &zero);
  why_buffer_print(&bench->told, " %.2f", change);
  return fabs(change);
}

bool fact_greater_change(fact_bench* bench, const xmlNode* fact) {
  const xmlNode* n = why_xml_first(fact, "greater");
  const why_head* head = fact_head(bench, why_xml_symbol(bench->reader, n, "head"));
  double deg = why_xml_number(bench->reader, n, "deg", NAN);
  return change_cm(bench, head, why_xml_symbol(bench->reader, n, "more"), deg) >
         change_cm(bench, head, why_xml_symbol(bench->reader, n, "less"), deg);
}

/// The posture a part `share` of the way from `a` to `b`, coordinate by coordinate.
static why_posture between(const why_frame* frame, const why_posture* a, const why_posture* b,
                           double share) {
  why_posture made = {.outside = a->outside || b->outside};
  for (size_t i = 0; i < frame->count; i++)
    made.rad[i] = a->rad[i] + share * (b->rad[i] - a->rad[i]);
  return made;
}

/// Longest and shortest among all postures on a grid between the two, coordinate by coordinate.
bool fact_extreme(fact_bench* bench, const xmlNode* fact) {
  enum { STEPS = 8 };
  const xmlNode* n = why_xml_first(fact, "extreme");
  const why_head* head = fact_head(bench, why_xml_symbol(bench->reader, n, "head"));
  why_posture longest = fact_posture(bench, why_xml_first(n, "longest"));
  why_posture shortest = fact_posture(bench, why_xml_first(n, "shortest"));
  double most = fact_length_cm(bench, head, &longest);
  double least = fact_length_cm(bench, head, &shortest);
  why_buffer_print(&bench->told, " %.1f to %.1f", least, most);
  int first = why_frame_number(bench->frame, head->crosses.at[0]);
  bool holds = most > least;
  for (int i = 0; i <= STEPS; i++) {
    for (int j = 0; j <= STEPS; j++) {
      why_posture at = between(bench->frame, &longest, &shortest, j / (double)STEPS);
      at.rad[first] =
          longest.rad[first] + i / (double)STEPS * (shortest.rad[first] - longest.rad[first]);
      double length = fact_length_cm(bench, head, &at);
      holds = holds && length <= most + 1e-9 && length >= least - 1e-9;
    }
  }
  return holds;
}
