// SPDX-License-Identifier: GPL-3.0-or-later
/// What an exercise near failure asks of each head: how hard it works, at which length, for which
/// movement, and where one joint refuses what another asks for.
#ifndef WHY_BODY_FEATURE_H
#define WHY_BODY_FEATURE_H

#include "effort.h"

/// A head works for a move in a posture when it gives at least the "mover-share" of
/// evidence/measurements of what all heads give along it, or when it gives to it and the prices of
/// the move's coordinates alone would call up half of its stress: not one that holds another joint
/// and happens to help a little.
///
/// A head in a whole repetition. Of a head of the trunk or neck, the side that moves more; of any
/// other, the working side, except where something is said of holding. Stresses are shares of
/// capacity, lengths optimal fibre lengths, means are over the postures of the path.
typedef struct {
  const why_head* head;
  int side;             ///< That is told of.
  double stress;        ///< Mean.
  double peak;          ///< Greatest.
  double peak_force_n;  ///< Force where the stress is greatest.
  double peak_length;   ///< Fibre length there.
  double longest;       ///< Fibre length where it is greatest in the path,
  double shortest;      ///< and where it is least.
  double shortening;    ///< From the stretched to the shortened end; below 0: it ends longer.
  bool moves;           ///< It works for a move and shortens (in a held exercise: works for it).
  double moving;        ///< Mean stress, counting the postures in which it works for a move; 0
                        ///< unless it moves.
  double moving_length; ///< Mean of that stress times fibre length.
  double holding;       ///< Greatest stress, on either side, of a head that does not move.
  double refused;       ///< Greatest stress that a move asks for and another coordinate refuses.
  int refused_for;      ///< That move, by its number in the exercise; -1: none.
  int refused_by;       ///< That coordinate, in the frame; -1: none.
  int refused_sense;    ///< The sense, +1 or -1, in which muscles must turn it.
  double parts[WHY_MOVES_LIMIT]; ///< Of what all heads give along each move of the exercise, mean.
  bool outside;                  ///< A range of the path or of the fibre was left.
} why_feature;

/// The features of all heads, in order of the tables; `features` has room for them.
void why_features_find(const why_sharer* sharer, const why_effort* effort, why_feature* features);

#endif
