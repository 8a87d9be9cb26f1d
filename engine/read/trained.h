// SPDX-License-Identifier: GPL-3.0-or-later
/// Reading the arms of a study: who trained, and which exercises of the catalogue that counts as.
#ifndef WHY_READ_TRAINED_H
#define WHY_READ_TRAINED_H

#include "studies.h"
#include "xml.h"

why_arm why_arm_read(why_reader* reader, const xmlNode* element);

/// The child <left-out> of an element; reason 0 when there is none.
why_left_out why_left_out_read(why_reader* reader, const xmlNode* element);

/// An attribute that says yes or no.
why_answer_known why_known_read(const xmlNode* element, const char* attribute);

#endif
