// SPDX-License-Identifier: GPL-3.0-or-later
/// How well the growth model predicts a study that it has not seen. Each study is left out in turn;
/// the predictors are chosen anew by the others (those of mechanics under which each of them is
/// likeliest when left out itself), the model is fitted anew, and the findings of the study are
/// predicted; beside it a model without mechanics.
#ifndef WHY_POOL_GROWTH_VALIDATE_H
#define WHY_POOL_GROWTH_VALIDATE_H

#include "difference.h"
#include "growth.h"

/// Differences between two arms of a study.
typedef struct {
  size_t count;
  size_t decided;    ///< Their observed 95 % interval excludes zero,
  size_t told;       ///< the model expects a difference,
  size_t right;      ///< of the observed sign.
  size_t others;     ///< The interval holds zero.
  size_t covered;    ///< Others that the interval expected for the observed difference covers.
  double width;      ///< Mean width of that interval for the others, percentage points.
  double error;      ///< Root mean squared error over all, percentage points.
  double error_none; ///< The same when no difference is expected.
} why_validated_differences;

/// Errors of the growth of single findings, percentage points (of log growth).
typedef struct {
  double error;
  double width; ///< Mean width of the 95 % interval expected.
  double score; ///< Mean log predictive density of a study's findings together, a finding.
  size_t covered;
} why_validated_findings;

typedef struct {
  size_t studies;
  size_t findings;
  size_t chosen[WHY_PREDICTORS];       ///< How often each was chosen.
  size_t failed;                       ///< Fits that did not settle.
  why_validated_differences exercises; ///< Both arms trained.
  why_validated_differences controls;  ///< One did not.
  why_validated_findings model;
  why_validated_findings alone[WHY_PREDICTORS]; ///< Without choosing.
} why_validation;

/// Takes many fits.
why_status why_growth_validate(const why_tables* tables, const why_findings* findings,
                               why_arena* arena, why_validation* validation);

/// The choice on all findings, by what a validation does in its loop.
why_status why_growth_choose(const why_tables* tables, const why_findings* findings,
                             why_arena* arena, why_predictors* predictors);

#endif
