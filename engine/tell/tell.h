// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of tell: from an answer to a tree, from the tree to text or JSON.
#ifndef WHY_TELL_DOOR_H
#define WHY_TELL_DOOR_H

#include "format.h" // IWYU pragma: export
#include "report.h" // IWYU pragma: export

#endif
