// SPDX-License-Identifier: GPL-3.0-or-later
/// From the elements of rules/reasoning/*.xml to the rows of reasoning.h, which stays free of
/// libxml2 because later stages include it.
#ifndef WHY_READ_REASONING_READER_H
#define WHY_READ_REASONING_READER_H

#include "tables.h"
#include "xml.h"

/// Turn the root element of one file into rows of `tables->reasoning`.
void why_reasoning_read(why_reader* reader, const xmlNode* root, why_tables* tables);

/// The same into any set of rows.
void why_reasoning_add(why_reader* reader, const xmlNode* root, why_reasoning* reasoning);

#endif
