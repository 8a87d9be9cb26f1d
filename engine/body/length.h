// SPDX-License-Identifier: GPL-3.0-or-later
/// Length of a muscle with its tendon, its moment arms, and the length of its fibres in a posture.
///
/// One polynomial gives length and moment arm: arm = −∂L/∂q with all other coordinates held (the
/// tendon-excursion method). Positive means that shortening raises the coordinate. Lengths belong
/// to the model body of the head; ratios need no scaling.
#ifndef WHY_BODY_LENGTH_H
#define WHY_BODY_LENGTH_H

#include "posture.h"

/// Length and all slopes of a path at once.
typedef struct {
  double length_m;
  double slopes[WHY_PATH_COORDINATES]; ///< ∂L/∂q, metres a radian, in order of the coordinates.
  bool outside;                        ///< As for why_length_at.
} why_path_value;

why_path_value why_length_value(const why_frame* frame, const why_head* head,
                                const why_posture* posture);

/// Length of muscle and tendon, metres. `outside` (may be NULL) is set where a coordinate had to be
/// brought back into the range in which the path was fitted; that of the shoulder counts for heads
/// that cross it.
double why_length_at(const why_frame* frame, const why_head* head, const why_posture* posture,
                     bool* outside);

/// ∂L/∂q about a coordinate of the path, metres a radian; 0 about any other.
double why_length_slope(const why_frame* frame, const why_head* head, const why_posture* posture,
                        why_symbol coordinate);

/// Moment arm along an action, metres; positive when shortening performs the action.
double why_length_arm(const why_frame* frame, const why_head* head, const why_posture* posture,
                      const why_action* action);

/// Fibre length in optimal fibre lengths, (L − slack) / (optimal · cos pennation), with a stiff
/// tendon; kept within the "fibre-range" of evidence/measurements, `outside` (may be NULL) set
/// where it had to be.
double why_length_fibre(const why_frame* frame, const why_head* head, double length_m,
                        bool* outside);

#endif
