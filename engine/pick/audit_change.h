// SPDX-License-Identifier: GPL-3.0-or-later
/// The single addition and the single swap that bring a programme nearest to what every head of the
/// major groups should get. Private to pick.
#ifndef WHY_PICK_AUDIT_CHANGE_H
#define WHY_PICK_AUDIT_CHANGE_H

#include "audit.h"
#include "rows.h"

/// Fill `audit->addition` and `audit->swap` from the relations "aim", "counts" and
/// "plan-exercise" of `overlay`.
void why_audit_change_find(why_audit* audit, why_overlay* overlay);

#endif
