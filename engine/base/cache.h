// SPDX-License-Identifier: GPL-3.0-or-later
/// A folder of images that can be made anew at any time. It is nobody's but the user's who runs the
/// program: what could have been put there by somebody else is not used, and where anything is
/// wrong there simply is no cache. Nothing here reports; files that cannot be used are as good as
/// absent.
#ifndef WHY_BASE_CACHE_H
#define WHY_BASE_CACHE_H

#include "arena.h"

#include <stdbool.h>

enum {
  WHY_CACHE_KEPT = 8,      ///< Most images in a folder,
  WHY_CACHE_KEPT_DAYS = 30 ///< and how long one is kept that nobody reads.
};

/// What image is meant.
typedef struct {
  const char* name;  ///< Of the file: letters and digits.
  const char* label; ///< What it must be of (image.h).
  unsigned slot;     ///< Address number.
} why_cache_key;

typedef struct why_cache why_cache;

/// Open `folder`, made with mode 0700 if it is missing (in a folder of the same user's, made in the
/// same way). NULL when it is a symbolic link, another user's, or open to others, or when the
/// machine does not give it. In `arena`; close it.
why_cache* why_cache_open(const char* folder, why_arena* arena);
void why_cache_close(why_cache* cache); ///< NULL is accepted. Gives back the lock.

/// The image under `key`, or NULL.
why_arena* why_cache_read(const why_cache* cache, const why_cache_key* key, const void** root);

/// Who may write.
typedef enum {
  WHY_LOCK_OWN,   ///< This program, from now on.
  WHY_LOCK_TAKEN, ///< Another one at the moment.
  WHY_LOCK_NONE   ///< Nobody: the machine has no lock to give.
} why_cache_lock_state;

why_cache_lock_state why_cache_lock(why_cache* cache);
bool why_cache_is_locked(const why_cache* cache); ///< By this program.

/// Put an image under `key` in place of what is there, at once and whole or not at all; drop the
/// oldest of too many. Only for whoever has the lock. False when that cannot be.
bool why_cache_write(const why_cache* cache, const why_cache_key* key, const why_arena* arena,
                     const void* root);

/// Drop what is under `key`.
void why_cache_drop(const why_cache* cache, const why_cache_key* key);

#endif
