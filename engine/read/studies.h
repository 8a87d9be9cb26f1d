// SPDX-License-Identifier: GPL-3.0-or-later
/// Growth trials: evidence/studies/*.xml as rows. evidence/schema/studies.rng explains every field;
/// words of a fixed choice are kept as names. A number that is not known is NAN, a name 0, a string
/// "". Everything lives as long as the tables.
#ifndef WHY_READ_STUDIES_H
#define WHY_READ_STUDIES_H

#include "base/base.h"
#include "p_value.h"

#include <stdbool.h>

/// Two ends; both NAN when not known.
typedef struct {
  double low;
  double high;
} why_low_high;

typedef enum { WHY_NOT_KNOWN, WHY_NO, WHY_YES } why_answer_known;

/// Why something is kept but used for nothing; reason 0: it is used.
typedef struct {
  why_symbol reason;
  const char* text;
  why_place place;
} why_left_out;

typedef struct {
  why_symbol coordinate;
  double from_deg;
  double to_deg;
  why_place place;
} why_joint_range;

/// One catalogue exercise that an arm trained, or one text of the study that no exercise fits.
typedef struct {
  why_symbol exercise; ///< 0: none fits, and `unmapped` says why.
  why_place place;
  const char* as_written; ///< In the study's words; several rows may share one text.
  const char* unmapped;
  const char* note;
  why_symbol fit;          ///< exact, close, loose; 0 when unmapped.
  double share;            ///< Of the arm's hard sets, 0 to 1.
  why_symbol range;        ///< full, long, short ...
  why_symbol sides;        ///< one, both, alternating, unknown.
  why_symbol mode;         ///< dynamic, eccentric ...
  double sets_per_session; ///< Of the text as written, not of the share.
  const char* sets_said;
  const char* reps;
  const char* load;
  why_answer_known to_failure;
  WHY_LIST(why_joint_range) joint_ranges;
} why_trained;

typedef struct {
  why_symbol id;
  why_place place;
  double n;
  bool control;
  why_symbol same_people_as; ///< The arm whose other limb this is; 0: none.
  why_symbol_list pools;     ///< Arms whose people this one holds together.
  why_left_out left_out;
  WHY_LIST(why_trained) trained;
} why_arm;

/// Mean and spread before or after.
typedef struct {
  double mean;
  double sd;
  double se;
} why_reading;

/// Growth of one muscle in one arm.
typedef struct {
  why_symbol arm;
  why_place place;
  why_symbol muscle; ///< A name of the measured muscles.
  why_symbol site;
  why_symbol side; ///< 0: not told apart.
  why_symbol method;
  why_symbol unit;
  double week; ///< NAN: at the end.
  double n;
  why_reading pre;
  why_reading post;
  double change; ///< In the unit.
  double change_sd;
  double change_dispersion; ///< Not known whether SD or standard error.
  why_low_high change_ci95;
  double change_pct;
  double change_pct_sd;
  double change_pct_sd_from_p;
  double change_pct_sd_at_most;
  double change_pct_dispersion;
  why_low_high change_pct_range;
  double effect_d;
  why_p p;
  why_symbol_list basis;
  const char* where;
  const char* doubt; ///< Why its numbers may be wrong.
  why_left_out left_out;
} why_result;

/// A difference between two arms that the study reports.
typedef struct {
  why_symbol a;
  why_symbol b;
  why_place place;
  why_symbol muscle;
  why_symbol site;
  why_symbol favours; ///< a, b, neither.
  why_p p;
  const char* p_of;
  double effect; ///< a minus b.
  const char* effect_kind;
  const char* effect_text;
  double effect_se;
  why_low_high effect_ci95;
  why_low_high effect_ci90;
  double difference_pct;
  double smd;
  why_low_high smd_ci95;
  why_symbol_list smd_basis; ///< Empty: as `basis`.
  why_symbol_list basis;
  const char* where;
  const char* note;
  const char* doubt;
  why_left_out left_out;
} why_contrast;

/// A statement inside one arm, or the same one for each of several.
typedef struct {
  why_symbol_list arms;
  why_place place;
  why_symbol kind;
  why_symbol muscle;
  why_symbol site;
  why_symbol
      says; ///< grew, no-growth, only-first-arm, first-greater, second-greater, alike, mixed.
  why_p p;
  double effect;
  const char* effect_kind;
  const char* effect_text;
  why_symbol_list basis;
  const char* statement;
} why_within;

/// Judgements by the domains of RoB 2: low, some, high, unclear.
typedef struct {
  why_symbol randomisation;
  why_symbol deviations;
  why_symbol missing;
  why_symbol measurement;
  why_symbol selection;
  why_symbol overall;
  why_place place;
} why_risk_of_bias;

typedef struct {
  why_symbol domain;
  const char* text;
} why_bias_reason;

/// Another study with the same people.
typedef struct {
  why_symbol study;
  why_place place;
  why_symbol people; ///< all, some, controls, perhaps.
  bool keep_other;   ///< For a muscle that both measured, only the other study counts.
  const char* text;
} why_overlap;

typedef struct {
  why_symbol id;
  why_place place;
  unsigned year; ///< 0: not known.
  const char* doi;
  why_symbol doi_source;
  const char* pmid;
  const char* pmc;
  const char* link;
  why_symbol design;
  bool randomised;
  bool within_person; ///< Its arms are limbs or periods of the same people.
  const char* title;
  why_symbol title_as; ///< 0: as printed.
  const char* journal;
  why_symbol journal_as;
  double n;
  why_symbol sex;
  double age;
  why_symbol training;
  why_symbol_list population_basis;
  double weeks;
  double sessions_per_week;
  why_answer_known load_matched;
  why_symbol_list protocol_basis; ///< Also of what the arms trained.
  const char* note;               ///< All notes, joined.
  const char* interests;
  why_place draft; ///< Of the mark of a draft; file NULL: there is none.
  why_left_out left_out;
  WHY_LIST(why_overlap) overlaps;
  WHY_LIST(why_arm) arms;
  WHY_LIST(why_result) results;
  WHY_LIST(why_contrast) contrasts;
  WHY_LIST(why_within) within;
  why_risk_of_bias bias;
  WHY_LIST(why_bias_reason) bias_reasons;
} why_study;

typedef struct {
  WHY_LIST(why_study) rows;
} why_study_table;

/// NULL when there is none of that id.
const why_study* why_study_find(const why_study_table* table, why_symbol id);
const why_arm* why_study_arm(const why_study* study, why_symbol id);

#endif
