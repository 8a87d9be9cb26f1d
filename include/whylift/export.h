// SPDX-License-Identifier: GPL-3.0-or-later
/// Marks what the shared library offers; everything else stays hidden.
#ifndef WHYLIFT_EXPORT_H
#define WHYLIFT_EXPORT_H

#if defined(__GNUC__)
#define WHY_API __attribute__((visibility("default")))
#else
#define WHY_API
#endif

#endif
