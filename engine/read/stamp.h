// SPDX-License-Identifier: GPL-3.0-or-later
/// The files of a knowledge base as the file system sees them, without reading any: what must be
/// the same for a snapshot of the base to be fresh.
#ifndef WHY_READ_STAMP_H
#define WHY_READ_STAMP_H

#include "base/base.h"

#include <stdbool.h>

typedef struct {
  const char* folder; ///< The true path of the knowledge base, without links.
  const char* digest; ///< Of name, size, times, inode and device of every file that is read.
  bool settled;       ///< No file changed so lately that its next change could have the same time.
} why_stamp;

/// Look at all files of the knowledge base in `folder`. False when there is no such folder.
bool why_stamp_read(const char* folder, why_arena* arena, why_stamp* stamp);

/// Whether `name` is that of a file which is read where it lies in a folder of some kind.
bool why_stamp_counts(const char* name);

#endif
