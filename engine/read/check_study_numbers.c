// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of the numbers of studies: sizes, shares, and figures that contradict each other. A row
// that states a doubt is not reported again.
#include "evidence_checks.h"
#include "tables.h"

#include <math.h>
#include <string.h>

static void check_arm_sizes(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++)
    if (study->arms.at[i].n > study->n)
      why_inspection_report(
          inspection, study->arms.at[i].place, "the arm %s has %g people, the whole study %g",
          why_inspection_text(inspection, study->arms.at[i].id), study->arms.at[i].n, study->n);
}

static void arm_size(const why_inspection* inspection) {
  why_each_study(inspection, check_arm_sizes);
}

static void check_result_sizes(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* result = &study->results.at[i];
    const why_arm* arm = why_study_arm(study, result->arm);
    if (arm && result->n > arm->n)
      why_inspection_report(inspection, result->place, "%g people were measured in an arm of %g",
                            result->n, arm->n);
  }
}

static void result_size(const why_inspection* inspection) {
  why_each_study(inspection, check_result_sizes);
}

/// Shares are written with four digits, so 14 of them may sum to a little more than 1.
static const double SHARE_ROUNDING = 0.002;

static void check_shares(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++) {
    const why_arm* arm = &study->arms.at[i];
    double sum = 0;
    for (size_t k = 0; k < arm->trained.count; k++)
      if (!isnan(arm->trained.at[k].share))
        sum += arm->trained.at[k].share;
    if (sum > 1 + SHARE_ROUNDING)
      why_inspection_report(inspection, arm->place, "the shares of the arm %s sum to %.3f",
                            why_inspection_text(inspection, arm->id), sum);
  }
}

static void share_sum(const why_inspection* inspection) {
  why_each_study(inspection, check_shares);
}

static void check_joint_ranges(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++)
    for (size_t k = 0; k < study->arms.at[i].trained.count; k++) {
      const why_trained* row = &study->arms.at[i].trained.at[k];
      for (size_t j = 0; j < row->joint_ranges.count; j++)
        if (row->joint_ranges.at[j].from_deg > row->joint_ranges.at[j].to_deg)
          why_inspection_report(inspection, row->joint_ranges.at[j].place,
                                "the range of %s runs backwards, from %g to %g degrees",
                                why_inspection_text(inspection, row->joint_ranges.at[j].coordinate),
                                row->joint_ranges.at[j].from_deg, row->joint_ranges.at[j].to_deg);
    }
}

static void joint_range(const why_inspection* inspection) {
  why_each_study(inspection, check_joint_ranges);
}

/// Half of the last digit that a printed number has (at most four decimals): its rounding error. A
/// zero at the end is not seen, so of two numbers printed alike the finer one tells.
static double half_digit(double value) {
  double step = 1;
  for (int decimals = 0; decimals < 4; decimals++, step /= 10)
    if (fabs(value / step - round(value / step)) < 1e-6)
      break;
  return step / 2;
}

/// The mean of single changes in % may differ from the change of the means by about this much.
static const double MEAN_OF_CHANGES_POINTS = 1.5;

static double change_of_means_pct(const why_result* result) {
  return 100 * (result->post.mean / result->pre.mean - 1);
}

static double rounding_pct(const why_result* result) {
  double pre = result->pre.mean;
  double post = result->post.mean;
  double half = fmin(half_digit(pre), half_digit(post));
  return 100 * half * (1 / pre + post / (pre * pre)) + half_digit(result->change_pct);
}

static void check_changes(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* result = &study->results.at[i];
    double by_means = change_of_means_pct(result);
    double apart = fabs(by_means - result->change_pct);
    if (*result->doubt || !(apart > rounding_pct(result) + MEAN_OF_CHANGES_POINTS))
      continue;
    why_inspection_report(inspection, result->place,
                          "the change is given as %g %%, but the means make it %.1f %%",
                          result->change_pct, by_means);
    why_problems_hint(inspection->problems, "mend the figures, or state a <doubt>");
  }
}

static void result_change(const why_inspection* inspection) {
  why_each_study(inspection, check_changes);
}

static bool is_pair(why_low_high interval) {
  return !isnan(interval.low);
}

static bool holds_zero(why_low_high interval) {
  return interval.low <= 0 && interval.high >= 0;
}

/// What the numbers contradict: NULL when they and `favours` agree or nothing can be said.
static const char* contradiction(const why_contrast* contrast, bool neither) {
  const double bound = 0.05;
  bool own_p = !*contrast->p_of;
  if (!neither && own_p && why_p_at_least(contrast->p) >= bound)
    return "p is not below 0.05";
  if (!neither && is_pair(contrast->effect_ci95) && holds_zero(contrast->effect_ci95))
    return "the interval holds zero";
  if (neither && own_p && why_p_at_most(contrast->p) < bound)
    return "p is below 0.05";
  if (neither && is_pair(contrast->effect_ci95) && !holds_zero(contrast->effect_ci95))
    return "the interval lies to one side of zero";
  return NULL;
}

static void check_statements(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->contrasts.count; i++) {
    const why_contrast* contrast = &study->contrasts.at[i];
    const char* favours = why_inspection_text(inspection, contrast->favours);
    const char* against = contradiction(contrast, strcmp(favours, "neither") == 0);
    if (against && !*contrast->doubt)
      why_inspection_report(inspection, contrast->place, "the contrast favours %s, yet %s", favours,
                            against);
  }
}

static void contrast_statement(const why_inspection* inspection) {
  why_each_study(inspection, check_statements);
}

static bool is_favoured(const why_inspection* inspection, const why_contrast* contrast,
                        const char* arm) {
  return strcmp(why_inspection_text(inspection, contrast->favours), arm) == 0;
}

static void check_signs(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->contrasts.count; i++) {
    const why_contrast* contrast = &study->contrasts.at[i];
    double signs[] = {contrast->effect, contrast->difference_pct, contrast->smd};
    for (size_t k = 0; k < sizeof signs / sizeof *signs; k++)
      if ((signs[k] < 0 && is_favoured(inspection, contrast, "a")) ||
          (signs[k] > 0 && is_favoured(inspection, contrast, "b")))
        why_inspection_report(inspection, contrast->place,
                              "the contrast favours %s, yet a minus b is %g",
                              why_inspection_text(inspection, contrast->favours), signs[k]);
  }
}

static void contrast_sign(const why_inspection* inspection) {
  why_each_study(inspection, check_signs);
}

why_check_rows why_study_number_checks = {
    {"arm-size", WHY_ERROR, arm_size, NULL, "No arm has more people than its study."},
    {"result-size", WHY_WARNING, result_size, NULL,
     "No more people are measured in an arm than it has."},
    {"share-sum", WHY_ERROR, share_sum, NULL, "The shares of an arm sum to no more than 1."},
    {"joint-range", WHY_ERROR, joint_range, NULL,
     "A joint range runs from the smaller to the larger angle."},
    {"result-change", WHY_WARNING, result_change, NULL,
     "A change in % agrees with the means before and after."},
    {"contrast-statement", WHY_WARNING, contrast_statement, NULL,
     "What a contrast says agrees with its p and its interval."},
    {"contrast-sign", WHY_WARNING, contrast_sign, NULL,
     "What a contrast says agrees with the sign of its numbers."},
    {0}};
