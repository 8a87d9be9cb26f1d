// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of evidence/studies/: what arms did, what grew, and which arm outgrew which. Rows that the
// files themselves mark as left out, or whose people count elsewhere, are not given.
#include "reason.h"

#include <math.h>

/// Growth in percent of the start: as reported, else from the means. NAN when neither is known.
static double percent_of(const why_result* result) {
  if (isfinite(result->change_pct))
    return result->change_pct;
  if (isfinite(result->pre.mean) && result->pre.mean > 0 && isfinite(result->post.mean))
    return (result->post.mean / result->pre.mean - 1) * 100;
  if (isfinite(result->pre.mean) && result->pre.mean > 0 && isfinite(result->change))
    return result->change / result->pre.mean * 100;
  return NAN;
}

static void give_result(why_giver* giver, const why_study* study, const why_result* result) {
  double percent = percent_of(result);
  const why_arm* arm = why_study_arm(study, result->arm);
  if (!arm || !isfinite(percent) || why_result_superseded(study, result) ||
      why_result_uncounted(giver->tables, study, result))
    return;
  if (isfinite(result->week) && result->week > 0 && isfinite(study->weeks))
    percent *= study->weeks / result->week;
  double people = isfinite(result->n) ? result->n : arm->n;
  if (!isfinite(people) || people <= 0)
    return;
  why_symbol_list heads = why_result_heads(giver->tables, result);
  const char* site =
      why_arena_print(giver->arena, "%s, %s, %s", why_symbols_text(giver->symbols, result->muscle),
                      why_symbols_text(giver->symbols, result->site),
                      why_symbols_text(giver->symbols, result->method));
  for (size_t i = 0; i < heads.count; i++)
    WHY_GIVE(giver, heads.count == 1 ? "grew" : "grew-together", result->place, WHY_SYM(study->id),
             WHY_SYM(result->arm), WHY_SYM(heads.at[i]), WHY_TEXT(site), WHY_NUM(percent),
             WHY_NUM(people));
}

static void give_contrast(why_giver* giver, const why_study* study, const why_contrast* contrast) {
  const char* favours = why_symbols_text(giver->symbols, contrast->favours);
  bool for_a = favours[0] == 'a';
  if ((!for_a && favours[0] != 'b') || why_contrast_uncounted(giver->tables, study, contrast))
    return;
  why_symbol_list heads = why_contrast_heads(giver->tables, study, contrast);
  if (heads.count != 1)
    return;
  WHY_GIVE(giver, "outgrew", contrast->place, WHY_SYM(study->id),
           WHY_SYM(for_a ? contrast->a : contrast->b), WHY_SYM(for_a ? contrast->b : contrast->a),
           WHY_SYM(heads.at[0]));
}

static void give_arm(why_giver* giver, const why_study* study, const why_arm* arm) {
  if (arm->control || arm->left_out.reason)
    return;
  for (size_t i = 0; i < arm->trained.count; i++) {
    const why_trained* did = &arm->trained.at[i];
    if (why_exercise_find(&giver->tables->exercises, did->exercise) && isfinite(did->share))
      WHY_GIVE(giver, "arm-did", did->place, WHY_SYM(study->id), WHY_SYM(arm->id),
               WHY_SYM(did->exercise), WHY_NUM(did->share), WHY_SYM(did->fit));
  }
}

static void give_study(why_giver* giver, const why_study* study) {
  if (isfinite(study->weeks))
    WHY_GIVE(giver, "study", study->place, WHY_SYM(study->id), WHY_SYM(study->design),
             WHY_NUM(study->weeks), WHY_SYM(study->training), WHY_SYM(study->bias.overall),
             WHY_SYM(study->sex));
  if (study->left_out.reason)
    WHY_GIVE(giver, "left-out", study->left_out.place, WHY_SYM(study->id),
             WHY_SYM(study->left_out.reason));
  for (size_t i = 0; i < study->arms.count; i++)
    give_arm(giver, study, &study->arms.at[i]);
  for (size_t i = 0; i < study->results.count; i++)
    give_result(giver, study, &study->results.at[i]);
  for (size_t i = 0; i < study->contrasts.count; i++)
    give_contrast(giver, study, &study->contrasts.at[i]);
}

void why_given_studies(why_giver* giver) {
  for (size_t i = 0; i < giver->tables->studies.rows.count; i++)
    give_study(giver, &giver->tables->studies.rows.at[i]);
}
