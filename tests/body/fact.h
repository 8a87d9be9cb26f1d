// SPDX-License-Identifier: GPL-3.0-or-later
/// The facts of tests/reference/anatomy/facts.xml as tests: each has a kind of check, and elements
/// that say what to compute and what must come out.
#ifndef WHY_TEST_FACT_H
#define WHY_TEST_FACT_H

#include "body/body.h"
#include "read/xml.h"

/// What a check is given, and where it says what it found.
typedef struct {
  const why_tables* tables;
  const why_frame* frame;
  why_reader* reader;
  why_buffer told;
} fact_bench;

/// Whether what is computed agrees with a <fact>; `bench->told` lists what was computed.
bool fact_holds(fact_bench* bench, const xmlNode* fact);

/// Name of kind of check number `index`, NULL behind the last.
const char* fact_check_at(size_t index);

/// Each is one or more of the kinds.
bool fact_crosses_exactly(fact_bench* bench, const xmlNode* fact);
bool fact_crosses_only(fact_bench* bench, const xmlNode* fact);
bool fact_length_change(fact_bench* bench, const xmlNode* fact);
bool fact_greater_change(fact_bench* bench, const xmlNode* fact);
bool fact_extreme(fact_bench* bench, const xmlNode* fact);
bool fact_arms(fact_bench* bench, const xmlNode* fact);
bool fact_greater_arms(fact_bench* bench, const xmlNode* fact);
bool fact_peak(fact_bench* bench, const xmlNode* fact);
bool fact_order(fact_bench* bench, const xmlNode* fact);
bool fact_top(fact_bench* bench, const xmlNode* fact);
bool fact_volume_rule(fact_bench* bench, const xmlNode* fact);

/// The posture of an element whose attributes are coordinates in degrees; NULL: all zero.
why_posture fact_posture(const fact_bench* bench, const xmlNode* element);

/// A head that must exist.
const why_head* fact_head(const fact_bench* bench, why_symbol id);

/// Length of a head, centimetres.
double fact_length_cm(const fact_bench* bench, const why_head* head, const why_posture* posture);

/// Moment arm in millimetres of a head, or of a group (mean over its heads by force), along an
/// action or a coordinate.
double fact_arm_mm(const fact_bench* bench, why_symbol of, why_symbol along,
                   const why_posture* posture);

/// A figure of a head or the sum over a group, by the name of its element ("volume").
double fact_figure(const fact_bench* bench, why_symbol of, const char* by);

#endif
