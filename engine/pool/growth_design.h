// SPDX-License-Identifier: GPL-3.0-or-later
/// The growth model at given constants as data of a linear mixed model. Private to pool.
///
/// Log growth of row i is
///
///   drift + F_i Σ_h w_h (N_h/10)^sets [ Σ_e share_he (s_he (b1 + b2 (S_study − S) + b3 (length_he
///   − L)
///           + b4 (L_study − L) + u_head + u_study + u_arm) + u_cell) ] + u_finding + error,
///   F_i = size_i · exp(trained · is_trained_i) · (weeks_i/10)^weeks,
///   s_he = stress_he / (stress_he + half),   longer_he = length_he − mean length of the head,
///
/// with N_h the weekly sets of head h, S and L the means of s and longer over studies, S_study and
/// L_study those of one study. b2 and b4 take up whatever goes with stress and length between
/// studies, so that b1 and b3 rest on contrasts within studies and on growth at the mean study.
/// Without stress there is drift only, and what u_cell adds where trials say that mechanics errs.
///
/// The constants are found by Gauss-Newton steps: their slopes stand as further columns, and the
/// coefficient of such a column is the step ("Nonlinear Mixed Effects Models for Repeated Measures
/// Data", Biometrics 1990, 10.2307/2532087, section 3: slopes are taken at the conditional modes).
/// In the last fit these columns carry the uncertainty of the constants into every estimate.
#ifndef WHY_POOL_GROWTH_DESIGN_H
#define WHY_POOL_GROWTH_DESIGN_H

#include "growth.h"
#include "growth_row.h"

/// In the order of b1 to b4.
typedef enum {
  WHY_GROWTH_BY_STRESS,
  WHY_GROWTH_BY_STUDY_STRESS,
  WHY_GROWTH_BY_LENGTH,
  WHY_GROWTH_BY_STUDY_LENGTH,
  WHY_FEATURES
} why_growth_feature;

typedef enum {
  WHY_CONSTANT_THICKNESS, ///< log of size_i of thicknesses; areas have 1.
  WHY_CONSTANT_VOLUME,
  WHY_CONSTANT_SETS,
  WHY_CONSTANT_WEEKS,
  WHY_CONSTANT_TRAINED,
  WHY_CONSTANT_HALF, ///< log of the stress at which half of the growth is reached.
  WHY_CONSTANTS
} why_constant;

typedef enum {
  WHY_TERM_STUDY,
  WHY_TERM_ARM,
  WHY_TERM_HEAD,
  WHY_TERM_CELL,
  WHY_TERM_FINDING,
  WHY_GROWTH_TERMS
} why_growth_term;

typedef struct {
  const why_growth_rows* rows;
  why_predictors predictors;
  size_t skip;              ///< 1 + number of a study that is left out; 0: none.
  bool held[WHY_CONSTANTS]; ///< Constants that the data say nothing of keep their start.
  double constants[WHY_CONSTANTS];
  bool with_constants;                   ///< Whether the columns of the constants are there; if so:
  double slopes[WHY_FEATURES];           ///< b1 to b4 and
  const double* modes[WHY_GROWTH_TERMS]; ///< effects at which they are taken.
  double mean_stress;                    ///< S
  double mean_length;                    ///< L
  double* head_length;  ///< Mean length of each head over the rows, weighted by s; NAN where the
                        ///< rows do not have it.
  double* study_stress; ///< S and L of each study; NAN where nothing was trained.
  double* study_length;
} why_growth_setup;

/// Column of a feature (0 to 3) or constant among the coefficients; SIZE_MAX: it has none.
size_t why_growth_column_of_feature(const why_growth_setup* setup, size_t feature);
size_t why_growth_column_of_constant(const why_growth_setup* setup, why_constant constant);
size_t why_growth_column_count(const why_growth_setup* setup);

/// Fill the means at the present constants; S and L over the studies that are not left out.
void why_growth_setup_means(why_growth_setup* setup, why_arena* arena);

/// longer of a length.
double why_growth_longer(const why_growth_setup* setup, size_t head, double length);

/// s of a stress.
double why_growth_response(const why_growth_setup* setup, double stress);

/// The columns of a row, zeros before.
void why_growth_design_row(const why_growth_setup* setup, const why_growth_row* row, double* x);

/// Add the effects of row `index` of the setup to the data, as row `at`. Each row has a level of
/// its own among the findings, whether it is left out or not.
void why_growth_design_parts(const why_growth_setup* setup, size_t index, size_t at,
                             why_arena* arena, why_mixed_data* data);

/// All rows; `kept` gets the index of each among the rows of the setup.
void why_growth_design_new(const why_growth_setup* setup, const why_findings* findings,
                           why_arena* arena, why_mixed_data* data, size_t** kept);

#endif
