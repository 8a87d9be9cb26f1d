// SPDX-License-Identifier: GPL-3.0-or-later
/// What stands behind the handles of the public headers, for tests that hold an answer against the
/// tables that it came from.
#ifndef WHY_HANDLE_H
#define WHY_HANDLE_H

#include "whylift/whylift.h"

#include "pick/pick.h"

/// Lives as long as `knowledge`.
const why_ground* why_knowledge_ground(const why_knowledge* knowledge);

#endif
