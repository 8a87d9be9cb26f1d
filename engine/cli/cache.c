// SPDX-License-Identifier: GPL-3.0-or-later
// "All paths set in these environment variables must be absolute. If an implementation encounters a
// relative path in any of these variables it should consider the path invalid and ignore it." (XDG
// Base Directory Specification 0.8)
#include "cache.h"

#include <stdio.h>
#include <stdlib.h>

const char* why_cache_folder(char* room, size_t size) {
  const char* base = getenv("XDG_CACHE_HOME");
  const char* within = "whylift";
  if (!base || *base != '/') {
    base = getenv("HOME");
    within = ".cache/whylift";
  }
  if (!base || *base != '/')
    return NULL;
  int length = snprintf(room, size, "%s/%s", base, within);
  return length > 0 && (size_t)length < size ? room : NULL;
}
