// SPDX-License-Identifier: GPL-3.0-or-later
// Joins studies with what their words mean, and keeps samples from counting twice.
#include "counted.h"

#include "tables.h"

#include <math.h>

why_symbol_list why_result_heads(const why_tables* tables, const why_result* result) {
  return why_measured_heads(&tables->measured_muscles, result->muscle, result->method);
}

static why_symbol common_method(const why_study* study, why_symbol muscle) {
  why_symbol method = 0;
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* each = &study->results.at[i];
    if (each->muscle != muscle)
      continue;
    if (method && method != each->method)
      return 0;
    method = each->method;
  }
  return method;
}

why_symbol_list why_contrast_heads(const why_tables* tables, const why_study* study,
                                   const why_contrast* contrast) {
  return why_measured_heads(&tables->measured_muscles, contrast->muscle,
                            common_method(study, contrast->muscle));
}

static bool share_a_name(why_symbol_list a, why_symbol_list b) {
  for (size_t i = 0; i < a.count; i++)
    for (size_t k = 0; k < b.count; k++)
      if (a.at[i] == b.at[k])
        return true;
  return false;
}

static bool measured_any(const why_tables* tables, const why_study* study, why_symbol_list heads) {
  for (size_t i = 0; i < study->results.count; i++)
    if (share_a_name(why_result_heads(tables, &study->results.at[i]), heads))
      return true;
  for (size_t i = 0; i < study->contrasts.count; i++)
    if (share_a_name(why_contrast_heads(tables, study, &study->contrasts.at[i]), heads))
      return true;
  return false;
}

/// The study's own reason, or the better record of the same people.
static const char* study_uncounted(const why_tables* tables, const why_study* study,
                                   why_symbol_list heads) {
  if (study->left_out.reason)
    return why_symbols_text(tables->symbols, study->left_out.reason);
  for (size_t i = 0; i < study->overlaps.count; i++) {
    const why_overlap* overlap = &study->overlaps.at[i];
    const why_study* other =
        overlap->keep_other ? why_study_find(&tables->studies, overlap->study) : NULL;
    if (other && !other->left_out.reason && measured_any(tables, other, heads))
      return "overlapping-sample";
  }
  return NULL;
}

static const char* arm_uncounted(const why_tables* tables, const why_study* study, why_symbol id) {
  const why_arm* arm = why_study_arm(study, id);
  return arm && arm->left_out.reason ? why_symbols_text(tables->symbols, arm->left_out.reason)
                                     : NULL;
}

const char* why_result_uncounted(const why_tables* tables, const why_study* study,
                                 const why_result* result) {
  if (result->left_out.reason)
    return why_symbols_text(tables->symbols, result->left_out.reason);
  const char* reason = arm_uncounted(tables, study, result->arm);
  return reason ? reason : study_uncounted(tables, study, why_result_heads(tables, result));
}

const char* why_contrast_uncounted(const why_tables* tables, const why_study* study,
                                   const why_contrast* contrast) {
  if (contrast->left_out.reason)
    return why_symbols_text(tables->symbols, contrast->left_out.reason);
  const char* reason = arm_uncounted(tables, study, contrast->a);
  reason = reason ? reason : arm_uncounted(tables, study, contrast->b);
  return reason ? reason
                : study_uncounted(tables, study, why_contrast_heads(tables, study, contrast));
}

bool why_result_superseded(const why_study* study, const why_result* result) {
  if (!isfinite(result->week))
    return false;
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* other = &study->results.at[i];
    if (other->arm == result->arm && other->muscle == result->muscle &&
        other->site == result->site && other->method == result->method &&
        (!isfinite(other->week) || other->week > result->week))
      return true;
  }
  return false;
}
