// SPDX-License-Identifier: GPL-3.0-or-later
/// From one printed result to log growth and its spread, by the best that was printed.
#ifndef WHY_POOL_PRINTED_H
#define WHY_POOL_PRINTED_H

#include "impute.h"

/// Where the spread of the change comes from, best first.
typedef enum {
  WHY_SPREAD_CHANGE,      ///< The SD of the changes was printed, in the unit or in per cent.
  WHY_SPREAD_INTERVAL,    ///< From a printed 95 % interval of the mean change.
  WHY_SPREAD_P,           ///< From an exactly printed p of the change.
  WHY_SPREAD_CORRELATION, ///< From the SDs before and after and an imputed correlation.
  WHY_SPREAD_METHOD,      ///< Imputed: what is usual for the method of measuring.
} why_spread_from;

/// All pure numbers.
typedef struct {
  double log_growth;   ///< ln(size after / size before); NAN when the result tells no growth.
  double change_sd;    ///< SD between people of the log growth; above 0.
  double correlation;  ///< Between sizes before and after, where it played a part; else NAN.
  bool from_percent;   ///< The growth is a mean of printed per cent changes, not of the means.
  bool spread_bounded; ///< The imputed spread was moved to what a printed bound of p allows.
  why_spread_from spread_from;
} why_printed;

/// What `people` people (2 or more) showed.
why_printed why_printed_growth(const why_result* result, double people, const why_usual* usual);

#endif
