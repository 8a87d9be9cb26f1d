// SPDX-License-Identifier: GPL-3.0-or-later
/// A knowledge base: rules/ and evidence/ read, checked and reasoned through as far as no question
/// is needed. It never changes once open and can be shared by threads.
#ifndef WHYLIFT_KNOWLEDGE_H
#define WHYLIFT_KNOWLEDGE_H

#include "problem.h"
#include "status.h"

#include <stdbool.h>
#include <stdint.h>

typedef struct why_knowledge why_knowledge;

/// How to open. Zeroed is the usual way; the seeds let tests show that neither the order of files
/// nor hashing changes an answer.
typedef struct {
  uint64_t order_seed;   ///< 0: files in order of their names; else in an order drawn from it.
  uint64_t hash_seed;    ///< Seed of all hashing.
  const char* leave_out; ///< What if these were not there: ids of studies, rules and exercises,
                         ///< separated by commas; NULL: none. All is read, checked and fitted anew
                         ///< without them, and the digest is another one.
  const char* study;     ///< The file of one study more, read, checked and fitted as if it stood in
                         ///< evidence/studies, where nothing is written; NULL: none. A name that
                         ///< ends in .csv is that of a table (see why_query_findings).
  const char* cache;     ///< A folder for snapshots, by its absolute path; NULL: there are none.
  bool fresh; ///< Read the files although a snapshot of them is at hand, and see whether it
              ///< holds what they do (check "snapshot").
} why_settings;

// Snapshots. With a cache folder (a program of a user takes whylift/ in the user's own cache
// folder), the compiled knowledge base is kept there and later mapped as it is, in milliseconds,
// as long as the build of the program and the names, sizes, times and inodes of all files are the
// same; what is damaged, foreign or old is passed over and replaced. The folder is made with mode
// 0700; one that others can write to or read, that belongs to another user, or is a symbolic link
// is not used. Nothing that is wrong with the cache is an error. With seeds, with
// one study more, or where something is left out, there are no snapshots.

/// Open the knowledge base in `folder` (it holds rules/ and evidence/). `settings` may be NULL.
/// Always sets `*problems` (free it with why_problems_free), sorted by place; `*knowledge` is set
/// on WHY_OK only. Notes and warnings are found in reading, so there are none when a snapshot was
/// used. Returns WHY_KNOWLEDGE when a file is wrong, WHY_QUESTION when there is nothing of an id
/// that is to be left out, WHY_MACHINE without memory.
WHY_API why_status why_knowledge_open(const char* folder, const why_settings* settings,
                                      why_knowledge** knowledge, why_problems** problems);

/// The content digest: 16 hexadecimal digits that change with every change of a file.
WHY_API const char* why_knowledge_digest(const why_knowledge* knowledge);

/// Give it back, after all queries and answers made from it. NULL is accepted.
WHY_API void why_knowledge_free(why_knowledge* knowledge);

/// The version of the program, such as "0.1.0".
WHY_API const char* why_version(void);

#endif
