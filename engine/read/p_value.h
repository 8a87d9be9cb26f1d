// SPDX-License-Identifier: GPL-3.0-or-later
/// A printed p: exactly, as a bound, or in words.
#ifndef WHY_READ_P_VALUE_H
#define WHY_READ_P_VALUE_H

/// At most one field is given; the others are NAN or "".
typedef struct {
  double exact;
  double below;     ///< p lies at or below it.
  double above;     ///< p lies at or above it.
  const char* said; ///< "not significant", "0.37 to 0.99".
} why_p;

/// The largest value that p can have by what was printed; NAN when that is not known.
double why_p_at_most(why_p p);

/// The smallest value that p can have by what was printed; NAN when that is not known.
double why_p_at_least(why_p p);

#endif
