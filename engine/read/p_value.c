// SPDX-License-Identifier: GPL-3.0-or-later
// Printed p values, as studies and reviews share them.
#include "p_value.h"

#include "evidence_reader.h"

#include <math.h>

double why_p_at_most(why_p p) {
  return isnan(p.exact) ? p.below : p.exact;
}

double why_p_at_least(why_p p) {
  return isnan(p.exact) ? p.above : p.exact;
}

why_p why_p_read(why_reader* reader, const xmlNode* element) {
  return (why_p){.exact = why_xml_number(reader, element, "p", NAN),
                 .below = why_xml_number(reader, element, "p-below", NAN),
                 .above = why_xml_number(reader, element, "p-above", NAN),
                 .said = why_xml_string(reader, element, "p-said")};
}
