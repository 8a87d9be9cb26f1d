// SPDX-License-Identifier: GPL-3.0-or-later
/// Where a user's snapshots lie.
#ifndef WHY_CLI_CACHE_H
#define WHY_CLI_CACHE_H

#include <stddef.h>

/// The folder by the rules of the XDG Base Directory Specification: whylift/ in $XDG_CACHE_HOME, an
/// absolute path, or else in $HOME/.cache. Printed into `room`; NULL when neither is set or the
/// path does not fit.
const char* why_cache_folder(char* room, size_t size);

#endif
