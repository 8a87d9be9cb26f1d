// SPDX-License-Identifier: GPL-3.0-or-later
/// Effect sizes with their sampling variances. Where no source stands beside a formula it is the
/// textbook's: "Introduction to Meta-Analysis", Wiley, 2009, DOI 10.1002/9780470743386, chapter 4.
/// Every group has 2 or more people (4 in all for the standardised ones) and an SD above 0;
/// logarithms of ratios need means of one sign.
#ifndef WHY_POOL_EFFECT_H
#define WHY_POOL_EFFECT_H

/// Both NAN when the inputs allow no such effect.
typedef struct {
  double value;
  double variance;
} why_effect_size;

/// One group, measured once. In any unit.
typedef struct {
  double mean;
  double sd; ///< Between people.
  double n;
} why_sample;

/// The same people measured twice.
typedef struct {
  double n;
  double mean_before;
  double sd_before;
  double mean_after;
  double sd_after;
  double correlation; ///< Between both measurements, above -1 and below 1.
} why_pairs;

/// The exact correction for small samples, Γ(df/2) / (√(df/2) Γ((df−1)/2)); df above 1. Source:
/// "Distribution theory for Glass's estimator of effect size and related estimators", Journal of
/// Educational Statistics, 1981, DOI 10.3102/10769986006002107.
double why_small_sample(double df);

/// √ of the variance within both groups, weighted by their degrees of freedom.
double why_pooled_sd(const why_sample* a, const why_sample* b);

/// One mean, and its logarithm.
why_effect_size why_effect_mean(const why_sample* group);
why_effect_size why_effect_log_mean(const why_sample* group);

/// a minus b; the second takes both SDs for estimates of one.
why_effect_size why_effect_difference(const why_sample* a, const why_sample* b);
why_effect_size why_effect_difference_alike(const why_sample* a, const why_sample* b);

/// How the variance of a standardised difference is estimated: with the corrected effect (large
/// sample), without bias, or the variance of the uncorrected one times the squared correction.
typedef enum { WHY_LARGE_SAMPLE, WHY_UNBIASED, WHY_CORRECTED_AFTER } why_smd_variance;

/// a minus b over the pooled SD, corrected for small samples; `raw` leaves the correction out.
why_effect_size why_effect_standardised(const why_sample* a, const why_sample* b,
                                        why_smd_variance how);
why_effect_size why_effect_standardised_raw(const why_sample* a, const why_sample* b);

/// The same over the SD of b alone, and over the root of the mean of both variances ("Confidence
/// intervals for standardized linear contrasts of means", Psychological Methods, 2008, DOI
/// 10.1037/1082-989X.13.2.99).
why_effect_size why_effect_standardised_by_b(const why_sample* a, const why_sample* b);
why_effect_size why_effect_standardised_unlike(const why_sample* a, const why_sample* b);

/// ln(a / b) of the means ("The meta-analysis of response ratios in experimental ecology", Ecology,
/// 1999, DOI 10.1890/0012-9658(1999)080[1150:TMAORR]2.0.CO;2, equation 1).
why_effect_size why_effect_log_ratio(const why_sample* a, const why_sample* b);

/// ln of the ratio of the SDs and of the coefficients of variation ("Meta-analysis of variation:
/// ecological and evolutionary applications and beyond", Methods in Ecology and Evolution, 2015,
/// DOI 10.1111/2041-210X.12309).
why_effect_size why_effect_log_sd_ratio(const why_sample* a, const why_sample* b);
why_effect_size why_effect_log_variation_ratio(const why_sample* a, const why_sample* b);

/// After minus before, in the unit.
why_effect_size why_effect_change(const why_pairs* pairs);

/// ln(after / before), by the delta method for correlated means: log growth where size is measured.
why_effect_size why_effect_log_growth(const why_pairs* pairs);

/// 100 · (after − before) / before, with the same delta method.
why_effect_size why_effect_percent(const why_pairs* pairs);

/// The change over the SD of the changes, and over the SD before, corrected for small samples.
why_effect_size why_effect_standardised_change(const why_pairs* pairs);
why_effect_size why_effect_change_by_before(const why_pairs* pairs);

/// The change over the SD after, where the SDs before and after may differ.
why_effect_size why_effect_change_by_after_unlike(const why_pairs* pairs);

/// The change of a minus that of b over their pooled SD before; both groups' own correlations are
/// taken for one, that of a. Source: "Estimating effect sizes from pretest-posttest-control group
/// designs", Organizational Research Methods, 2008, DOI 10.1177/1094428106291059, equations 8 to 10
/// and 25.
why_effect_size why_effect_controlled_change(const why_pairs* a, const why_pairs* b);

/// Fisher's z of a correlation in n people.
why_effect_size why_effect_fisher_z(double correlation, double n);

/// ln of the ratio of risks and of odds: `a` of `a + b` against `c` of `c + d`, all above 0.
why_effect_size why_effect_log_risk_ratio(double a, double b, double c, double d);
why_effect_size why_effect_log_odds_ratio(double a, double b, double c, double d);

#endif
