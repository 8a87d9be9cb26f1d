// SPDX-License-Identifier: GPL-3.0-or-later
/// Opening a knowledge base by way of a snapshot: an image of the ground in a cache, used as long
/// as program and files are those it was made from.
#ifndef WHY_SNAPSHOT_H
#define WHY_SNAPSHOT_H

#include "pick/pick.h"

typedef struct why_snapshot why_snapshot;

/// Get ready to look for the knowledge base in `folder`, in the cache folder `cache`. NULL when
/// there can be no snapshot. In `arena`, which nothing refers to afterwards; close it.
why_snapshot* why_snapshot_open(const char* folder, const char* cache, why_arena* arena);
void why_snapshot_close(why_snapshot* snapshot); ///< NULL is accepted.

/// The ground in a fresh snapshot, in `*kept`, which is to be freed; or NULL: then the files must
/// be read. When several programs miss the same snapshot at once, one is sent to read, and the
/// others wait for what it writes, for a few seconds at most.
const why_ground* why_snapshot_find(why_snapshot* snapshot, why_arena** kept);

/// An arena for a ground that why_snapshot_write can keep; NULL when nothing is to be kept.
why_arena* why_snapshot_arena(why_snapshot* snapshot);

/// Keep a ground that was just read, unless a file has changed meanwhile.
void why_snapshot_write(why_snapshot* snapshot, const why_arena* arena, const why_ground* ground);

/// Whether the snapshot that would be used has another content digest than the files, which were
/// read; it is then dropped.
bool why_snapshot_differs(why_snapshot* snapshot, const char* digest);

#endif
