// SPDX-License-Identifier: GPL-3.0-or-later
// GLPK takes memory of its own; it is given back before anything here can leave through the door of
// exhausted memory, since all that is needed from the arena is taken first.
#include "mip.h"

#include <glpk.h>
#include <math.h>

int why_mip_add_column(why_mip* mip, double cost, double low, double high, bool whole) {
  *WHY_LIST_ADD(mip->arena, mip->columns) =
      (why_mip_column){.cost = cost, .low = low, .high = high, .whole = whole};
  return (int)mip->columns.count - 1;
}

int why_mip_add_row(why_mip* mip, double low, double high) {
  *WHY_LIST_ADD(mip->arena, mip->rows) = (why_mip_row){low, high};
  return (int)mip->rows.count - 1;
}

void why_mip_add_term(why_mip* mip, int row, int column, double factor) {
  if (factor != 0)
    *WHY_LIST_ADD(mip->arena, mip->terms) = (why_mip_term){row, column, factor};
}

static int kind_of(double low, double high) {
  if (isinf(low))
    return isinf(high) ? GLP_FR : GLP_UP;
  return isinf(high) ? GLP_LO : low == high ? GLP_FX : GLP_DB;
}

/// The terms as GLPK counts them, from 1.
typedef struct {
  int* rows;
  int* columns;
  double* factors;
} triplets;

static triplets list_terms(const why_mip* mip) {
  size_t count = mip->terms.count + 1;
  triplets made = {WHY_NEW_ARRAY(mip->arena, int, count), WHY_NEW_ARRAY(mip->arena, int, count),
                   WHY_NEW_ARRAY(mip->arena, double, count)};
  for (size_t i = 0; i < mip->terms.count; i++) {
    made.rows[i + 1] = mip->terms.at[i].row + 1;
    made.columns[i + 1] = mip->terms.at[i].column + 1;
    made.factors[i + 1] = mip->terms.at[i].factor;
  }
  return made;
}

static glp_prob* load(const why_mip* mip, const triplets* terms) {
  glp_prob* made = glp_create_prob();
  glp_set_obj_dir(made, GLP_MAX);
  glp_add_cols(made, (int)mip->columns.count);
  for (int i = 0; i < (int)mip->columns.count; i++) {
    const why_mip_column* each = &mip->columns.at[i];
    glp_set_col_bnds(made, i + 1, kind_of(each->low, each->high), each->low, each->high);
    glp_set_obj_coef(made, i + 1, each->cost);
    glp_set_col_kind(made, i + 1, each->whole ? GLP_IV : GLP_CV);
  }
  if (mip->rows.count)
    glp_add_rows(made, (int)mip->rows.count);
  for (int i = 0; i < (int)mip->rows.count; i++) {
    const why_mip_row* each = &mip->rows.at[i];
    glp_set_row_bnds(made, i + 1, kind_of(each->low, each->high), each->low, each->high);
  }
  glp_load_matrix(made, (int)mip->terms.count, terms->rows, terms->columns, terms->factors);
  return made;
}

/// Counts nodes and ends the search at the limit; keeps the bound and gap of GLPK.
static void watch(glp_tree* tree, void* user) {
  why_mip_result* result = user;
  glp_ios_tree_size(tree, NULL, NULL, &result->nodes);
  int best = glp_ios_best_node(tree);
  if (best) {
    result->bound = glp_ios_node_bound(tree, best);
    result->gap = glp_ios_mip_gap(tree);
  }
  if (result->nodes > WHY_MIP_NODES)
    glp_ios_terminate(tree);
}

/// What GLPK's end means; `code` is that of glp_intopt.
static void judge(glp_prob* problem, int code, why_mip_result* result) {
  int status = glp_mip_status(problem);
  result->value = glp_mip_obj_val(problem);
  if (code == 0 && status == GLP_OPT) {
    result->status = WHY_MIP_OPTIMAL;
    result->bound = result->value;
    result->gap = 0;
  } else if (code == GLP_ENOPFS || (code == 0 && status == GLP_NOFEAS)) {
    result->status = WHY_MIP_INFEASIBLE;
  } else {
    result->status = status == GLP_FEAS ? WHY_MIP_FEASIBLE : WHY_MIP_UNDECIDED;
  }
}

/// Solve the problem without whole numbers, from which the search starts. GLPK's presolver is not
/// used: it stops the program where nothing but empty rows is left.
static why_mip_status relax(glp_prob* problem) {
  glp_smcp settings;
  glp_init_smcp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  glp_std_basis(problem);
  if (glp_simplex(problem, &settings) != 0)
    return WHY_MIP_UNDECIDED;
  int status = glp_get_status(problem);
  return status == GLP_OPT                              ? WHY_MIP_OPTIMAL
         : status == GLP_NOFEAS || status == GLP_INFEAS ? WHY_MIP_INFEASIBLE
                                                        : WHY_MIP_UNDECIDED;
}

/// Solve what is loaded; `values` takes those of the columns.
static why_mip_result run(glp_prob* problem, double* values, int count) {
  why_mip_result result = {.status = relax(problem)};
  if (result.status != WHY_MIP_OPTIMAL)
    return result;
  glp_iocp settings;
  glp_init_iocp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  settings.cov_cuts = settings.mir_cuts = settings.gmi_cuts = settings.clq_cuts = GLP_ON;
  settings.br_tech = GLP_BR_PCH;
  settings.bt_tech = GLP_BT_BPH;
  settings.cb_func = watch;
  settings.cb_info = &result;
  judge(problem, glp_intopt(problem, &settings), &result);
  for (int i = 0; i < count; i++)
    values[i] = glp_mip_col_val(problem, i + 1);
  return result;
}

why_mip_result why_mip_solve(why_mip* mip) {
  int count = (int)mip->columns.count;
  triplets terms = list_terms(mip);
  double* values = WHY_NEW_ARRAY(mip->arena, double, mip->columns.count + 1);
  int spoke = glp_term_out(GLP_OFF);
  glp_prob* problem = load(mip, &terms);
  why_mip_result result = run(problem, values, count);
  glp_delete_prob(problem);
  glp_term_out(spoke);
  for (int i = 0; i < count; i++)
    mip->columns.at[i].value = mip->columns.at[i].whole ? round(values[i]) : values[i];
  return result;
}
