// SPDX-License-Identifier: GPL-3.0-or-later
// Arithmetic: a recursive-descent parser into a tree of nodes, the kinds of its parts, and a
// recursive evaluation. Sizes are bounded, so recursion is too.
#include "expression.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

enum { ARGUMENTS_LIMIT = 8, DEPTH_LIMIT = 40, LENGTH_LIMIT = 500 };

typedef enum {
  OP_VALUE,
  OP_LEVEL_NAME,
  OP_VARIABLE,
  OP_ADD,
  OP_SUBTRACT,
  OP_MULTIPLY,
  OP_DIVIDE,
  OP_NEGATE,
  OP_MIN,
  OP_MAX,
  OP_STEP,
  OP_ABS,
  OP_ROUND,
  OP_FLOOR,
  OP_SQRT,
  OP_LOG,
  OP_EXP
} operation;

struct why_expression {
  operation op;
  uint32_t variable;
  why_symbol name;
  why_value value;
  why_slot slot; ///< Of a constant.
  double top;    ///< step: the highest rank.
  unsigned count;
  why_expression* arguments[ARGUMENTS_LIMIT];
};

static const struct {
  const char* name;
  operation op;
  unsigned least, most; ///< Numbers of arguments.
} FUNCTIONS[] = {{"min", OP_MIN, 2, ARGUMENTS_LIMIT},
                 {"max", OP_MAX, 2, ARGUMENTS_LIMIT},
                 {"step", OP_STEP, 2, 2},
                 {"abs", OP_ABS, 1, 1},
                 {"round", OP_ROUND, 1, 1},
                 {"floor", OP_FLOOR, 1, 1},
                 {"sqrt", OP_SQRT, 1, 1},
                 {"log", OP_LOG, 1, 1},
                 {"exp", OP_EXP, 1, 1}};

// ---- parsing ----

typedef struct {
  const why_expression_scope* scope;
  const char* here;
  const char* wrong; ///< The first thing that is wrong, or NULL.
  int depth;
} parser;

static why_expression* parse_sum(parser* p);

static why_expression* fail(parser* p, const char* wrong) {
  if (!p->wrong)
    p->wrong = wrong;
  return NULL;
}

static void skip_blanks(parser* p) {
  while (isspace((unsigned char)*p->here))
    p->here++;
}

static bool take(parser* p, char wanted) {
  skip_blanks(p);
  if (*p->here != wanted)
    return false;
  p->here++;
  return true;
}

static why_expression* make(parser* p, operation op) {
  why_expression* made = WHY_NEW(p->scope->arena, why_expression);
  made->op = op;
  return made;
}

static why_expression* make_two(parser* p, operation op, why_expression* a, why_expression* b) {
  if (!a || !b)
    return NULL;
  why_expression* made = make(p, op);
  made->count = 2;
  made->arguments[0] = a;
  made->arguments[1] = b;
  return made;
}

/// How many bytes of a name (letters, digits, hyphens) stand at `text`.
static size_t name_length(const char* text) {
  size_t length = 0;
  while (islower((unsigned char)text[length]) || isdigit((unsigned char)text[length]) ||
         text[length] == '-')
    length++;
  return length;
}

static why_slot number_slot(const why_expression_scope* scope) {
  return (why_slot){.kind = why_symbols_add(scope->symbols, "number"), .type = WHY_SLOT_NUMBER};
}

static why_expression* parse_number(parser* p) {
  size_t length = strspn(p->here, "0123456789.");
  double number = 0;
  if (!why_parse_number(why_arena_copy(p->scope->arena, p->here, length), &number))
    return fail(p, "a number is not written as one");
  p->here += length;
  why_slot slot = number_slot(p->scope);
  return why_expression_constant(p->scope->arena, &slot, why_value_of_number(number));
}

static why_expression* parse_variable(parser* p) {
  size_t length = name_length(p->here);
  if (length == 0)
    return fail(p, "a variable's name is missing behind ?");
  why_expression* made = make(p, OP_VARIABLE);
  made->variable = p->scope->variable(p->scope->user, p->here, length);
  p->here += length;
  return made->variable == UINT32_MAX ? fail(p, "a variable cannot be used here") : made;
}

static why_expression* parse_call(parser* p, const char* name, size_t length) {
  for (size_t i = 0; i < sizeof FUNCTIONS / sizeof *FUNCTIONS; i++) {
    if (strlen(FUNCTIONS[i].name) != length || strncmp(FUNCTIONS[i].name, name, length) != 0)
      continue;
    why_expression* made = make(p, FUNCTIONS[i].op);
    do {
      if (made->count == ARGUMENTS_LIMIT)
        return fail(p, "a function has too many arguments");
      why_expression* argument = parse_sum(p);
      if (!argument)
        return NULL;
      made->arguments[made->count++] = argument;
    } while (take(p, ','));
    if (!take(p, ')'))
      return fail(p, "a closing parenthesis is missing");
    if (made->count < FUNCTIONS[i].least || made->count > FUNCTIONS[i].most)
      return fail(p, "a function has the wrong number of arguments");
    return made;
  }
  return fail(p, "there is no such function");
}

static why_expression* parse_name(parser* p) {
  const char* name = p->here;
  size_t length = name_length(name);
  if (length == 0)
    return fail(p, "a number, a variable, a level or a parenthesis is missing");
  p->here += length;
  if (take(p, '('))
    return parse_call(p, name, length);
  why_expression* made = make(p, OP_LEVEL_NAME);
  made->name = why_symbols_add_bytes(p->scope->symbols, name, length);
  return made;
}

static why_expression* parse_atom(parser* p) {
  if (++p->depth > DEPTH_LIMIT)
    return fail(p, "the expression is nested too deeply");
  why_expression* made = NULL;
  if (take(p, '(')) {
    made = parse_sum(p);
    if (made && !take(p, ')'))
      made = fail(p, "a closing parenthesis is missing");
  } else if (take(p, '-')) {
    why_expression* inner = parse_atom(p);
    made = make(p, OP_NEGATE);
    made->count = 1;
    made->arguments[0] = inner;
    made = inner ? made : NULL;
  } else if (take(p, '?')) {
    made = parse_variable(p);
  } else if (isdigit((unsigned char)*p->here) || *p->here == '.') {
    made = parse_number(p);
  } else {
    made = parse_name(p);
  }
  p->depth--;
  return made;
}

static why_expression* parse_product(parser* p) {
  why_expression* left = parse_atom(p);
  while (left) {
    if (take(p, '*'))
      left = make_two(p, OP_MULTIPLY, left, parse_atom(p));
    else if (take(p, '/'))
      left = make_two(p, OP_DIVIDE, left, parse_atom(p));
    else
      break;
  }
  return left;
}

static why_expression* parse_sum(parser* p) {
  why_expression* left = parse_product(p);
  while (left) {
    if (take(p, '+'))
      left = make_two(p, OP_ADD, left, parse_product(p));
    else if (take(p, '-'))
      left = make_two(p, OP_SUBTRACT, left, parse_product(p));
    else
      break;
  }
  return left;
}

why_expression* why_expression_parse(const why_expression_scope* scope, const char* text,
                                     const char** wrong) {
  parser p = {.scope = scope, .here = text};
  if (strlen(text) > LENGTH_LIMIT) {
    *wrong = "the expression is too long";
    return NULL;
  }
  why_expression* made = parse_sum(&p);
  skip_blanks(&p);
  if (made && *p.here)
    made = fail(&p, "something is left over behind the expression");
  *wrong = p.wrong;
  return made;
}

why_expression* why_expression_constant(why_arena* arena, const why_slot* slot, why_value value) {
  why_expression* made = WHY_NEW(arena, why_expression);
  *made = (why_expression){.op = OP_VALUE, .slot = *slot, .value = value};
  return made;
}

// ---- kinds ----

/// The one ordered kind that has a level of this name; false when there is none or more than one.
static bool only_level_slot(const why_expression_scope* scope, why_symbol name, why_slot* slot) {
  const why_level_set* found = NULL;
  for (size_t i = 0; i < scope->reasoning->levels.count; i++) {
    const why_level_set* levels = &scope->reasoning->levels.at[i];
    if (why_levels_rank(levels, name) < 0)
      continue;
    if (found)
      return false;
    found = levels;
  }
  if (found)
    *slot = (why_slot){.kind = found->name, .type = WHY_SLOT_LEVEL, .levels = found};
  return found != NULL;
}

bool why_expression_slot(const why_expression* e, const why_expression_scope* scope,
                         why_slot* slot) {
  switch (e->op) {
  case OP_VALUE:
    *slot = e->slot;
    return true;
  case OP_VARIABLE:
    *slot = *scope->slot(scope->user, e->variable);
    return slot->kind != 0;
  case OP_LEVEL_NAME:
    return only_level_slot(scope, e->name, slot);
  case OP_STEP:
    return why_expression_slot(e->arguments[0], scope, slot);
  case OP_MIN:
  case OP_MAX:
    for (unsigned i = 0; i < e->count; i++)
      if (e->arguments[i]->op != OP_LEVEL_NAME && why_expression_slot(e->arguments[i], scope, slot))
        return true;
    return why_expression_slot(e->arguments[0], scope, slot);
  default:
    *slot = number_slot(scope);
    return true;
  }
}

static const char* settle_all(why_expression* e, const why_expression_scope* scope,
                              const why_slot* wanted) {
  const char* wrong = NULL;
  for (unsigned i = 0; i < e->count && !wrong; i++)
    wrong = why_expression_settle(e->arguments[i], scope, wanted);
  return wrong;
}

static const char* settle_step(why_expression* e, const why_expression_scope* scope,
                               const why_slot* wanted) {
  if (wanted->type != WHY_SLOT_LEVEL)
    return "step gives a level, and none is wanted here";
  e->top = (double)wanted->levels->levels.count - 1;
  why_slot number = number_slot(scope);
  const char* wrong = why_expression_settle(e->arguments[0], scope, wanted);
  return wrong ? wrong : why_expression_settle(e->arguments[1], scope, &number);
}

static const char* settle_level_name(why_expression* e, const why_slot* wanted) {
  int rank = wanted->type == WHY_SLOT_LEVEL ? why_levels_rank(wanted->levels, e->name) : -1;
  if (rank < 0)
    return "a name in it is no level of the kind that is wanted";
  e->op = OP_VALUE;
  e->slot = *wanted;
  e->value = why_value_of_number(rank);
  return NULL;
}

const char* why_expression_settle(why_expression* e, const why_expression_scope* scope,
                                  const why_slot* wanted) {
  why_slot own = {0};
  switch (e->op) {
  case OP_LEVEL_NAME:
    return settle_level_name(e, wanted);
  case OP_VALUE:
  case OP_VARIABLE:
    if (!why_expression_slot(e, scope, &own))
      return "the kind of a variable in it is not known";
    return own.type == wanted->type && own.levels == wanted->levels
               ? NULL
               : "numbers, levels and names are mixed";
  case OP_MIN:
  case OP_MAX:
    return wanted->type == WHY_SLOT_SYMBOL ? "min and max compare numbers or levels"
                                           : settle_all(e, scope, wanted);
  case OP_STEP:
    return settle_step(e, scope, wanted);
  default:
    if (wanted->type != WHY_SLOT_NUMBER)
      return "arithmetic gives a number, and none is wanted here";
    return settle_all(e, scope, wanted);
  }
}

void why_expression_variables(const why_expression* e, void (*each)(void* user, uint32_t variable),
                              void* user) {
  if (e->op == OP_VARIABLE)
    each(user, e->variable);
  for (unsigned i = 0; i < e->count; i++)
    why_expression_variables(e->arguments[i], each, user);
}

// ---- evaluation ----

static double evaluate(const why_expression* e, const why_value* variables);

static double extreme(const why_expression* e, const why_value* variables) {
  double best = evaluate(e->arguments[0], variables);
  for (unsigned i = 1; i < e->count; i++) {
    double next = evaluate(e->arguments[i], variables);
    if (!isfinite(best) || !isfinite(next))
      return NAN; // fmin and fmax would hide it
    best = e->op == OP_MIN ? fmin(best, next) : fmax(best, next);
  }
  return best;
}

static double evaluate(const why_expression* e, const why_value* variables) {
  if (e->op == OP_VALUE)
    return e->value.number;
  if (e->op == OP_VARIABLE)
    return variables[e->variable].number;
  if (e->op == OP_MIN || e->op == OP_MAX)
    return extreme(e, variables);
  double a = evaluate(e->arguments[0], variables);
  double b = e->count > 1 ? evaluate(e->arguments[1], variables) : 0;
  if (!isfinite(a) || !isfinite(b))
    return NAN; // 1 / (1 / 0) is not 0
  switch (e->op) {
  case OP_ADD:
    return a + b;
  case OP_SUBTRACT:
    return a - b;
  case OP_MULTIPLY:
    return a * b;
  case OP_DIVIDE:
    return a / b;
  case OP_NEGATE:
    return -a;
  case OP_STEP:
    return fmin(fmax(a + round(b), 0), e->top);
  case OP_ABS:
    return fabs(a);
  case OP_ROUND:
    return round(a);
  case OP_FLOOR:
    return floor(a);
  case OP_SQRT:
    return sqrt(a);
  case OP_LOG:
    return log(a);
  default:
    return exp(a);
  }
}

bool why_expression_value(const why_expression* expression, const why_value* variables,
                          why_value* value) {
  if (expression->op == OP_VARIABLE || expression->op == OP_VALUE) {
    *value = expression->op == OP_VALUE ? expression->value : variables[expression->variable];
    return true; // may be a symbol, whose bits are no number
  }
  double number = evaluate(expression, variables);
  *value = why_value_of_number(number);
  return isfinite(number);
}

static bool compare_numbers(why_comparison comparison, double a, double b) {
  switch (comparison) {
  case WHY_BELOW:
    return a < b;
  case WHY_ABOVE:
    return a > b;
  case WHY_AT_MOST:
    return a <= b;
  default:
    return a >= b;
  }
}

bool why_values_compare(why_comparison comparison, why_value a, why_value b) {
  if (comparison == WHY_EQUALS)
    return a.bits == b.bits;
  if (comparison == WHY_DIFFERS)
    return a.bits != b.bits;
  return compare_numbers(comparison, a.number, b.number);
}
