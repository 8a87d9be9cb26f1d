// SPDX-License-Identifier: GPL-3.0-or-later
/// Loading whole files within a limit.
#ifndef WHY_READ_LOAD_H
#define WHY_READ_LOAD_H

#include "base/base.h"

/// All bytes of the regular file at `path`, terminated, in `arena`; `*length` without the
/// terminator. NULL with a reason in `*reason` when it cannot be read or is larger than `limit`
/// bytes; what is no regular file (a device, a pipe) is never read from.
const char* why_file_load(why_arena* arena, const char* path, size_t limit, size_t* length,
                          const char** reason);

#endif
