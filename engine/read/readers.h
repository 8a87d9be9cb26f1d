// SPDX-License-Identifier: GPL-3.0-or-later
/// From elements to rows. Kept apart from the headers of the rows, which stay free of libxml2
/// because later stages include them.
#ifndef WHY_READ_READERS_H
#define WHY_READ_READERS_H

#include "tables.h"
#include "xml.h"

/// Turn the root element of one file into rows of `tables`.
void why_anatomy_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_exercises_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_equipment_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_measurements_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_restrictions_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_abstracts_read(why_reader* reader, const xmlNode* root, why_tables* tables);
void why_lexicon_read(why_reader* reader, const xmlNode* root, why_tables* tables);

/// The joints of an anatomy file.
void why_joints_read(why_reader* reader, const xmlNode* root, why_anatomy* anatomy);

/// Count the numbers and gaps of one file into `tables->census`.
void why_census_read(why_reader* reader, const xmlNode* root, why_tables* tables);

/// The <word> children of an element.
why_word_list why_words_read(why_reader* reader, const xmlNode* element);

#endif
