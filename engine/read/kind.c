// SPDX-License-Identifier: GPL-3.0-or-later
// The table of kinds: one row a kind of file.
#include "kind.h"

#include "evidence_reader.h"
#include "readers.h"
#include "reasoning_reader.h"

static const why_kind KINDS[] = {
    {"evidence/measurements/", NULL, "evidence/schema/measurements.rng", why_measurements_read},
    {"evidence/reviews/", NULL, "evidence/schema/reviews.rng", why_reviews_read},
    {"evidence/studies/", "muscles.xml", "evidence/schema/studies.rng", why_studies_read},
    {"evidence/studies/muscles.xml", NULL, "evidence/schema/measured-muscles.rng",
     why_measured_muscles_read},
    {"rules/abstracts.xml", NULL, "rules/schema/abstracts.rng", why_abstracts_read},
    {"rules/anatomy/", NULL, "rules/schema/anatomy.rng", why_anatomy_read},
    {"rules/equipment.xml", NULL, "rules/schema/equipment.rng", why_equipment_read},
    {"rules/exercises/", NULL, "rules/schema/exercises.rng", why_exercises_read},
    {"rules/lexicon.xml", NULL, "rules/schema/lexicon.rng", why_lexicon_read},
    {"rules/reasoning/", NULL, "rules/schema/reasoning.rng", why_reasoning_read},
    {"rules/restrictions.xml", NULL, "rules/schema/restrictions.rng", why_restrictions_read},
    {0},
};

const why_kind* why_kinds_at(size_t index) {
  return index + 1 < sizeof KINDS / sizeof *KINDS ? &KINDS[index] : NULL;
}
