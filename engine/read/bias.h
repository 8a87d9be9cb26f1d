// SPDX-License-Identifier: GPL-3.0-or-later
/// The judgement over all domains of RoB 2, as it follows from the judgements by domain ("RoB 2: a
/// revised tool for assessing risk of bias in randomised trials", BMJ, 2019, DOI
/// 10.1136/bmj.l4898).
#ifndef WHY_READ_BIAS_H
#define WHY_READ_BIAS_H

#include "studies.h"

/// What speaks against `bias->overall`; NULL when it may stand. Low needs all domains low; one high
/// domain makes the whole high; concerns in one domain make it some concerns, concerns in several
/// may make it high. A domain that was not judged ("unclear") counts as concerns, and the whole may
/// then be unclear as well.
const char* why_bias_contradiction(const why_symbols* symbols, const why_risk_of_bias* bias);

#endif
