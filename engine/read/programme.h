// SPDX-License-Identifier: GPL-3.0-or-later
/// A training programme as somebody wrote it down: days with lines, each some sets of an exercise.
/// The XML form is read here (include/whylift/programme.rng describes it); plain text is read by
/// pick, which knows how people write.
#ifndef WHY_READ_PROGRAMME_H
#define WHY_READ_PROGRAMME_H

#include "whylift/status.h"

#include "base/base.h"

#include <stdbool.h>

enum {
  WHY_PROGRAMME_LIMIT = 256 * 1024, ///< Largest programme, bytes.
  WHY_PROGRAMME_ROWS = 500,         ///< Most lines with an exercise.
  WHY_PROGRAMME_DAYS = 60,          ///< Most days.
  WHY_PROGRAMME_SETS = 20           ///< Most sets in one line.
};

/// From and to; NAN where not written.
typedef struct {
  double low;
  double high;
} why_from_to;

/// Some sets of one exercise.
typedef struct {
  const char* name; ///< As written, without what was read as sets, load and the like.
  double sets;      ///< 0 where none were written.
  why_from_to repetitions;
  why_from_to seconds; ///< Of a set, for what is held.
  why_from_to reserve; ///< Repetitions in reserve.
  double load_kg;      ///< NAN where not written.
  bool warm_up;        ///< Not to be counted.
  why_symbol exercise; ///< 0 until it is understood.
  why_place place;
} why_programme_row;

/// One session; its times a week.
typedef struct {
  const char* name;
  double times;
  unsigned weekdays; ///< Bit 0: Monday ... bit 6: Sunday; 0 where none is named.
  WHY_LIST(why_programme_row) rows;
  why_place place;
} why_programme_day;

/// Something that was not understood, or not wholly.
typedef struct {
  const char* text; ///< As written.
  const char* why;
  const char* hint; ///< NULL if none.
  why_place place;
} why_unread;

typedef struct {
  WHY_LIST(why_programme_day) days;
  WHY_LIST(why_unread) unread;
} why_programme;

/// A row without anything.
why_programme_row why_programme_row_empty(void);

/// Whether the text is meant to be XML: its first mark is "<".
bool why_programme_is_xml(const char* text);

/// Read the XML form. WHY_QUESTION after reporting what is wrong with it, at `file`:line:column.
why_status why_programme_from_xml(why_arena* arena, why_problems* problems, const char* file,
                                  const char* text, size_t length, why_programme* programme);

#endif
