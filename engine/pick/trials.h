// SPDX-License-Identifier: GPL-3.0-or-later
/// What trials found for a goal, or with an exercise, pooled over studies: raw growth against the
/// start, as measured, before any model.
#ifndef WHY_PICK_TRIALS_H
#define WHY_PICK_TRIALS_H

#include "question.h"

#include "pool/pool.h"

/// The five domains of RoB 2 and the overall judgement, in the order of why_risk_of_bias.
enum { WHY_BIAS_DOMAINS = 6 };

/// low, some concerns, unclear, high: from best to worst.
enum { WHY_BIAS_GRADES = 4 };

/// One sample in a pooled result.
typedef struct {
  const why_composite* composite;
  why_interval growth;        ///< Log growth with its own 95 % interval.
  double weight_pct;          ///< Its share of the pooled mean.
  bool has_influence;         ///< False when the rest cannot be pooled.
  why_influence influence;    ///< What leaving it out does.
  int bias[WHY_BIAS_DOMAINS]; ///< Grade by domain, the worst of its studies.
} why_trial;

/// Trials that are pooled as one.
typedef struct {
  why_symbol group;         ///< Measured muscle group, of an exercise; 0: the goal.
  WHY_LIST(size_t) members; ///< Numbers of its findings among all.
  why_symbol_list heads;    ///< Of which findings tell.
  why_composites samples;
  WHY_LIST(why_trial) trials; ///< As samples.
  double people;
  why_meta meta;                  ///< Of log growth.
  why_interval at_correlation[2]; ///< The mean with the lowest and the highest pre-post correlation
                                  ///< that the evidence tries.
  bool is_tested;                 ///< Whether there are studies enough for the next.
  why_small_study small;
  double bias_pct[WHY_BIAS_DOMAINS][WHY_BIAS_GRADES]; ///< Share of the weight by judgement.
} why_trial_set;

/// An arm that trained the exercise against another arm of its study, in one muscle.
typedef struct {
  const why_difference* difference;
  bool turned;         ///< The exercise is that of the difference's arm b.
  why_interval growth; ///< Log growth with the exercise minus that of the other arm.
} why_trial_contrast;

typedef struct {
  const why_question* question;
  why_findings findings;       ///< All of the knowledge base.
  why_symbol_list heads;       ///< Of a goal.
  double tried_correlation[2]; ///< Lowest and highest; NAN: none is tried.
  size_t together;             ///< Findings that measured the goal only together with other heads.
  WHY_LIST(why_trial_set)
  sets; ///< One for a goal; for an exercise one a group, most samples first.
  WHY_LIST(why_trial_contrast) contrasts; ///< Of an exercise, as the differences are ordered.
  WHY_LIST(const why_unused*) unused;     ///< About the goal or the exercise, but not pooled.
} why_trials;

/// Pool for `question->goal`, or for `question->exercise` when there is no goal: arms whose
/// training was mostly that exercise (relation "did-mostly"). WHY_NO_PICK when no trial measured
/// it; WHY_KNOWLEDGE when a quantity that imputing needs is missing, which is reported.
why_status why_trials_run(const why_question* question, why_trials** trials);

/// The grades and domains in words, for people ("some concerns", "missing data"), and as ids
/// ("some", "missing").
const char* why_bias_grade_words(int grade);
const char* why_bias_grade_id(int grade);
const char* why_bias_domain_words(int domain);
const char* why_bias_domain_id(int domain);

#endif
