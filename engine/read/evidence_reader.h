// SPDX-License-Identifier: GPL-3.0-or-later
/// Readers of the files under evidence/studies and evidence/reviews, and what they share.
#ifndef WHY_READ_EVIDENCE_READER_H
#define WHY_READ_EVIDENCE_READER_H

#include "p_value.h"
#include "studies.h"
#include "tables.h"
#include "xml.h"

/// Add the rows of one file, whose root element has been validated, to `tables`.
void why_studies_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_measured_muscles_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_reviews_read(why_reader* reader, const xmlNode* root, why_tables* tables);

/// The attributes p, p-below, p-above, p-said of an element.
why_p why_p_read(why_reader* reader, const xmlNode* element);

/// An attribute that holds two numbers, low and high; NAN, NAN when absent.
why_low_high why_low_high_read(why_reader* reader, const xmlNode* element, const char* attribute);

#endif
