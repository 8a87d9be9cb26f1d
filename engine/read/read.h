// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of read: from a folder with rules/ and evidence/ to checked tables.
#ifndef WHY_READ_H
#define WHY_READ_H

#include "check.h"       // IWYU pragma: export
#include "counted.h"     // IWYU pragma: export
#include "draft.h"       // IWYU pragma: export
#include "number.h"      // IWYU pragma: export
#include "phrases.h"     // IWYU pragma: export
#include "programme.h"   // IWYU pragma: export
#include "regex.h"       // IWYU pragma: export
#include "spell.h"       // IWYU pragma: export
#include "stamp.h"       // IWYU pragma: export
#include "study_table.h" // IWYU pragma: export
#include "tables.h"      // IWYU pragma: export
#include "words.h"       // IWYU pragma: export

#include "whylift/status.h"

#include <stdint.h>

/// How to read. Zeroed is the usual way; the seeds exist so that tests can show that neither the
/// order of files nor hashing changes any answer.
typedef struct {
  uint64_t order_seed;   ///< 0: files in order of their names; else in an order drawn from it.
  uint64_t hash_seed;    ///< Seed of the table of names.
  const char* leave_out; ///< Ids of studies, rules and exercises to do without; NULL: none.
  const char* study; ///< Path of one study more, as if it stood in evidence/studies; NULL: none.
} why_read_settings;

/// Read and check the knowledge base in `folder` into `arena`. All problems of all files go to
/// `problems` (unsorted). Returns WHY_KNOWLEDGE when there is an error among them, WHY_MACHINE when
/// the folder cannot be read, WHY_QUESTION when it holds nothing that is to be left out; `tables`
/// is set whenever WHY_OK or WHY_KNOWLEDGE is returned, but after WHY_KNOWLEDGE it may lack rows.
why_status why_tables_open(const char* folder, const why_read_settings* settings, why_arena* arena,
                           why_problems* problems, why_tables** tables);

#endif
