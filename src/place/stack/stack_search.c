#include "place/stack/stack_bound.h"

#include "base/random.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NODES_MOST = 500, FLOORS_TRIED = 3 };

/* Of several stacks wanted, those worth so little less than the best; the search looks longer. */
#define GOOD_ENOUGH 0.9
enum { LISTING_NODES = 5000 };

/* Which way a search is going up: all bays in step (standing -1), or one column of a parted load.
 */
typedef struct {
    int standing, column;
    ks_um base; /* where its lowest shelf's underside is */
    int under;  /* gap that carries it */
} lane;

/* A search from the floor up with the stock counted, led by the climb's values, which promise at
 * least what can be had. */
typedef struct {
    ks_stack_program *c;
    int places, nodes, options_most;
    bool every_bay; /* of a column has to be asked for, where nothing but what is asked is built */
    ks_um floor;    /* where the lowest shelves' underside is */
    int *post_left, *shelf_left; /* of each kind */
    int n, n_found;
    struct step {
        int standing, column, way, gap, under, number;
        ks_um z;
    } * now, *found; /* as many as there are shelves: each takes one or more */
    double found_value;
    int shelves;             /* of all kinds */
    struct listing *listing; /* several are wanted; NULL = the best alone */
} ascent;

/* The best stacks met on the way up; the same levels in another order are the same. */
struct listing {
    int n, most;
    struct listed {
        double value;
        uint64_t levels; /* which, in any order */
        int n;
        struct step *steps;
    } * of;
};

typedef struct {
    double promise, value;
    ks_um base;
    int standing, column, way, gap; /* gap -1 = top; way -1 = part into columns */
} option;

static void go_up(ascent *a, const lane *up, ks_um base, int under, double gained);

static bool take_posts(ascent *a, const ks_column *column, int gap, int sign)
{
    bool enough = true;
    if (gap < 0)
        return true;
    const ks_gap *g = &a->c->furniture->gaps[gap];
    for (int i = 0; i < g->n; i++) {
        a->post_left[g->kind[i]] -= sign * column->n_posts;
        enough = enough && a->post_left[g->kind[i]] >= 0;
    }
    return enough;
}

static const ks_support *support_of(const ascent *a, const ks_column *column, int way, int bay)
{
    return &a->c->furniture->kiln->bays[column->bays[bay]]
                .supports[column->ways[way].supports[bay]];
}

static bool take_shelves(ascent *a, const ks_column *column, int way, int sign)
{
    bool enough = true;
    for (int b = 0; b < column->n_bays; b++) {
        const ks_support *s = support_of(a, column, way, b);
        for (int i = 0; i < s->n_shelves; i++) {
            a->shelf_left[s->shelves[i].kind] -= sign;
            enough = enough && a->shelf_left[s->shelves[i].kind] >= 0;
        }
    }
    return enough;
}

static bool lies(const ks_stack_program *c, const ks_column *column, int way, ks_um z)
{
    for (int b = 0; b < column->n_bays; b++)
        if (!ks_support_lies(c->furniture, column->bays[b], column->ways[way].supports[b], z, z))
            return false;
    return true;
}

/* Whether some shelves of the column may lie on the posts of this gap where they end. */
static bool any_lies(const ks_stack_program *c, const ks_column *column, int gap, ks_um base)
{
    for (int w = 0; w < column->n_ways; w++)
        if (lies(c, column, w, base + column->ways[w].thickness) &&
            ks_way_rests(c->furniture, column, w, gap, base))
            return true;
    return false;
}

static bool holds_all(const ks_column *column, const ks_column *posts_of)
{
    for (int i = 0; i < posts_of->n_posts; i++) {
        int k = 0;
        while (k < column->n_posts && column->posts[k] != posts_of->posts[i])
            k++;
        if (k == column->n_posts)
            return false;
    }
    return true;
}

static const ks_column *column_of(const ascent *a, const struct step *step)
{
    return &a->c->furniture->post_layouts[step->standing].columns[step->column];
}

/* The level that a next one of the column would be over: its own last, or the last that went up in
 * step; NULL = none. */
static const struct step *step_below(const ascent *a, int standing, int column)
{
    for (int i = a->n - 1; i >= 0; i--) {
        const struct step *step = &a->now[i];
        if ((step->standing == standing && step->column == column) ||
            a->c->furniture->post_layouts[step->standing].n_columns == 1)
            return step;
    }
    return NULL;
}

/* Whether shelves have room on top for all posts of a gap over them, each over a post below. */
static bool way_bears(const struct ks_shelving *way, bool on_floor, int section)
{
    return on_floor ? way->bears_on_floor[section] : way->bears[section];
}

/* Whether all posts of the column, of this gap, stand safely on what is below them. */
static bool posts_are_borne(const ascent *a, int standing, int column, int gap)
{
    const struct step *below = step_below(a, standing, column);
    if (gap < 0 || !below)
        return true;
    const ks_furniture *f = a->c->furniture;
    const ks_column *under = column_of(a, below);
    return holds_all(under, &f->post_layouts[standing].columns[column]) &&
           way_bears(&under->ways[below->way], below->under < 0, f->gaps[gap].section);
}

static bool in_stock(const ascent *a, const ks_column *column, int gap)
{
    const ks_gap *g = &a->c->furniture->gaps[gap];
    int same = g->n == 2 && g->kind[0] == g->kind[1] ? 2 : 1;
    for (int i = 0; i < g->n; i++)
        if (a->post_left[g->kind[i]] < same * column->n_posts)
            return false;
    return true;
}

/* Over the shelves nearest to the floor the kiln may ask for more. */
static bool is_even(const ascent *a, ks_um base, ks_um gap)
{
    return base != a->floor || gap >= ks_um_of(a->c->furniture->kiln->first_gap_mm);
}

static bool has_bay(const ks_column *column, int bay)
{
    for (int b = 0; b < column->n_bays; b++)
        if (column->bays[b] == bay)
            return true;
    return false;
}

/* Levels of the bay so far, whichever arrangement they are of. */
static int levels_in_bay(const ascent *a, int bay)
{
    int n = 0;
    for (int i = 0; i < a->n; i++)
        n += has_bay(column_of(a, &a->now[i]), bay);
    return n;
}

/* Whether what is needed up to this tier is built of bays other than those of this arrangement (-1:
 * of all). */
static bool needs_built(const ascent *a, int tier, int but_standing)
{
    const ks_furniture *f = a->c->furniture;
    for (int i = 0; i < a->c->wish->n_needs; i++) {
        const ks_level_need *need = &a->c->wish->needs[i];
        bool to_come = need->tier >= tier;
        for (int k = 0; but_standing >= 0 && k < f->post_layouts[but_standing].n_columns; k++)
            to_come = to_come || has_bay(&f->post_layouts[but_standing].columns[k], need->bay);
        if (!to_come && levels_in_bay(a, need->bay) <= need->number)
            return false;
    }
    return true;
}

/* A level that is to be low has the least gap that takes any ware. */
static bool is_low_enough(const ascent *a, const ks_level_need *need, ks_um gap)
{
    return !need->lowest || a->c->n_useful == 0 || gap <= a->c->useful_um[0];
}

/* A level that may come to be that of a need. */
typedef struct {
    ks_um z, gap;
    double clear_mm;
} candidate;

static bool is_met(const ascent *a, const ks_level_need *need, const option *o, candidate level)
{
    const ks_column *column = &a->c->furniture->post_layouts[o->standing].columns[o->column];
    int bay = need->bay == KS_NEED_ANY_BAY ? column->bays[0] : need->bay;
    int number = levels_in_bay(a, bay);
    if (need->number == KS_NEED_TOP)
        return o->gap >= 0 || level.clear_mm >= need->clear_mm;
    if ((o->gap < 0 && need->number > number) ||
        (need->number == number && !is_low_enough(a, need, level.gap)))
        return false;
    if (need->number == number && level.z < need->least_z)
        return false;
    for (int b = 0; b < column->n_bays && need->number == number; b++)
        if (column->bays[b] == bay &&
            (level.clear_mm < need->clear_mm ||
             (need->support >= 0 && need->support != column->ways[o->way].supports[b])))
            return false;
    return need->number != number || !a->c->wish->only_on ||
           needs_built(a, need->tier, o->standing);
}

static bool is_asked_for(const ascent *a, int bay)
{
    for (int i = 0; i < a->c->wish->n_needs; i++)
        if (a->c->wish->needs[i].bay == bay && a->c->wish->needs[i].number >= levels_in_bay(a, bay))
            return true;
    return false;
}

/* Bays that go up in step may be asked for in part. */
static bool any_asked_for(const ascent *a, const ks_column *column)
{
    int n = 0;
    for (int b = 0; b < column->n_bays; b++)
        n += is_asked_for(a, column->bays[b]);
    return a->every_bay ? n == column->n_bays : n > 0;
}

static bool is_about(const ks_column *column, const ks_level_need *need)
{
    return need->bay == KS_NEED_ANY_BAY || has_bay(column, need->bay);
}

/* Whether the level is as the needs of its bays have it; and, where nothing but those is built, one
 * of them asks for it. */
static bool needs_met(const ascent *a, const option *o, ks_um z, ks_um gap)
{
    const ks_stack_wish *wish = a->c->wish;
    const ks_column *column = &a->c->furniture->post_layouts[o->standing].columns[o->column];
    ks_stack_level at = {.z = z, .gap = gap, .posts = o->gap};
    candidate level = {z, gap, ks_level_clear_mm(wish->kind, &at)};
    for (int i = 0; i < wish->n_needs; i++)
        if (is_about(column, &wish->needs[i]) && !is_met(a, &wish->needs[i], o, level))
            return false;
    return !wish->only_on || any_asked_for(a, column);
}

/* Nothing worth less is looked for. */
static double least_wanted(const ascent *a)
{
    const struct listing *l = a->listing;
    if (!l)
        return a->found_value;
    double least = l->n < l->most ? 0 : l->of[l->n - 1].value;
    return fmax(least, GOOD_ENOUGH * a->found_value);
}

/* One number for a level of these shelves and tallest ware; their sum tells levels apart in any
 * order. */
static uint64_t number_of(const ascent *a, const struct step *step)
{
    const ks_stack_program *c = a->c;
    ks_um gap = step->gap < 0 ? c->top - step->z : c->furniture->gaps[step->gap].height;
    int height = ks_height_index(c->wish->job, ks_gap_clear_mm(c->wish->kind, gap, step->gap < 0));
    ks_random random =
        ks_random_of((uint64_t)step->standing << 32 | (uint64_t)step->column,
                     (uint64_t)step->way << 32 | (uint64_t)height << 1 | (uint64_t)(step->gap < 0));
    return ks_random_bits(&random);
}

/* In its place among those listed, best first; the last goes when there are too many. */
static void list(ascent *a, double value)
{
    struct listing *l = a->listing;
    uint64_t levels = 0;
    for (int i = 0; i < a->n; i++)
        levels += number_of(a, &a->now[i]);
    for (int i = 0; i < l->n; i++)
        if (l->of[i].levels == levels)
            return;
    int at = l->n;
    while (at > 0 && l->of[at - 1].value < value)
        at--;
    l->n += l->n < l->most;
    if (at >= l->n)
        return;
    struct step *steps = l->of[l->n - 1].steps;
    for (int i = l->n - 1; i > at; i--)
        l->of[i] = l->of[i - 1];
    l->of[at] = (struct listed){value, levels, a->n, steps};
    memcpy(steps, a->now, sizeof a->now[0] * (size_t)a->n);
}

static void keep_if_better(ascent *a, double value)
{
    if (a->listing && a->n > 0)
        list(a, value);
    if (a->n == 0 || value <= a->found_value ||
        (a->c->wish->only_on && !needs_built(a, INT_MAX, -1)))
        return;
    a->found_value = value;
    a->n_found = a->n;
    memcpy(a->found, a->now, sizeof a->now[0] * (size_t)a->n);
}

static int by_promise(const void *x, const void *y)
{
    const option *a = x, *b = y;
    if (a->promise != b->promise)
        return a->promise > b->promise ? -1 : 1;
    if (a->standing != b->standing)
        return a->standing - b->standing;
    return a->way != b->way ? a->way - b->way : a->gap - b->gap;
}

static int number_on(const ascent *a, int standing, int column)
{
    int number = 0;
    for (int i = 0; i < a->n; i++)
        number += a->now[i].standing == standing && a->now[i].column == column;
    return number;
}

static bool shelves_in_stock(ascent *a, const ks_column *column, int way)
{
    bool enough = take_shelves(a, column, way, 1);
    take_shelves(a, column, way, -1);
    return enough;
}

/* Where the next shelf would be, the posts that carry it, and what the levels below and the columns
 * beside it are worth at most. */
typedef struct {
    ks_um base;
    int under;
    double without;
} footing;

static bool is_wanted(const ascent *a, footing at, double promise)
{
    return at.without + promise > least_wanted(a) + 1e-9;
}

/* Of the gaps for one tallest ware, the least that is in stock and leads to where a shelf may lie.
 */
static int gap_options(const ascent *a, const ks_column_value *cv, const option *plain, footing at,
                       const double *rest, int left, option *out, int n)
{
    const ks_stack_program *c = a->c;
    const ks_furniture *f = c->furniture;
    ks_um z = plain->base + cv->column->ways[plain->way].thickness;
    bool served = true;
    for (int g = 0; g < f->n_gaps; g++) {
        served = served && !c->useful[g];
        double value = served ? KS_NEVER : ks_stack_program_gap(c, cv, plain->way, g, z);
        ks_um next = z + f->gaps[g].height;
        if (value <= KS_NEVER)
            continue;
        double then = ks_stack_program_rest(c, rest, left - 1, next);
        if (then <= KS_NEVER || !in_stock(a, cv->column, g) ||
            !is_even(a, plain->base, f->gaps[g].height) ||
            !way_bears(&cv->column->ways[plain->way], at.under < 0, f->gaps[g].section) ||
            !any_lies(c, cv->column, g, next))
            continue;
        served = true;
        if (!is_wanted(a, at, value + then))
            continue;
        out[n] = *plain;
        out[n].gap = g;
        out[n].value = value;
        out[n++].promise = value + then;
    }
    return n;
}

static int column_options(ascent *a, int standing, int column, const double *rest, footing at,
                          option *out, int n)
{
    const ks_stack_program *c = a->c;
    const ks_column_value *cv = &c->columns[c->first_column[standing] + column];
    int left =
        c->levels_most - (rest == c->places[a->places] ? a->n : number_on(a, standing, column));
    bool stocked =
        take_posts(a, cv->column, at.under, 1) && posts_are_borne(a, standing, column, at.under);
    for (int w = 0; w < cv->column->n_ways && stocked; w++) {
        ks_um z = at.base + cv->column->ways[w].thickness;
        option plain = {0, 0, at.base, standing, column, w, -1};
        if (!lies(c, cv->column, w, z) || !shelves_in_stock(a, cv->column, w) ||
            !ks_way_rests(c->furniture, cv->column, w, at.under, at.base))
            continue;
        plain.value = plain.promise = ks_stack_program_top(c, cv, w, z);
        if (plain.value > KS_NEVER && is_wanted(a, at, plain.promise))
            out[n++] = plain;
        n = gap_options(a, cv, &plain, at, rest, left, out, n);
    }
    take_posts(a, cv->column, at.under, -1);
    return n;
}

static int options_at(ascent *a, const lane *up, footing at, option *out)
{
    const ks_stack_program *c = a->c;
    const ks_furniture *f = c->furniture;
    int n = 0;
    if (up->standing >= 0) {
        const double *rest = c->columns[c->first_column[up->standing] + up->column].best;
        n = column_options(a, up->standing, up->column, rest, at, out, n);
    }
    for (int s = 0; s < f->n_post_layouts && up->standing < 0; s++) {
        const ks_post_layout *st = &f->post_layouts[s];
        if (st->places != a->places)
            continue;
        if (st->n_columns == 1) {
            n = column_options(a, s, 0, c->places[a->places], at, out, n);
            continue;
        }
        option part = {0, 0, at.base, s, 0, -1, -1};
        for (int k = 0; k < st->n_columns; k++) {
            double best = ks_stack_program_rest(c, c->columns[c->first_column[s] + k].best,
                                                c->levels_most, at.base);
            part.promise += best > 0 ? best : 0;
        }
        out[n++] = part;
    }
    qsort(out, (size_t)n, sizeof *out, by_promise);
    return n;
}

/* The most that the columns after this one can still bring. */
static double promised_beside(const ascent *a, const lane *up)
{
    const ks_stack_program *c = a->c;
    double sum = 0;
    if (up->standing < 0)
        return 0;
    for (int k = up->column + 1; k < c->furniture->post_layouts[up->standing].n_columns; k++) {
        double best = ks_stack_program_rest(c, c->columns[c->first_column[up->standing] + k].best,
                                            c->levels_most, up->base);
        sum += best > 0 ? best : 0;
    }
    return sum;
}

/* Columns of a parted load are filled one after another; a column may stay empty, but not all of
 * them: the posts below would carry nothing. */
static void begin_column(ascent *a, const lane *begun, double gained)
{
    if (begun->column == a->c->furniture->post_layouts[begun->standing].n_columns) {
        if (a->n > 0 && a->now[a->n - 1].standing == begun->standing)
            keep_if_better(a, gained);
        return;
    }
    go_up(a, begun, begun->base, begun->under, gained);
    lane next = *begun;
    next.column++;
    if (gained + promised_beside(a, begun) > least_wanted(a))
        begin_column(a, &next, gained);
}

static void set_level(ascent *a, const lane *up, const option *o, ks_um base, int under,
                      double gained)
{
    const ks_stack_program *c = a->c;
    const ks_column *column = &c->furniture->post_layouts[o->standing].columns[o->column];
    ks_um z = base + column->ways[o->way].thickness;
    ks_um gap = o->gap < 0 ? c->top - z : c->furniture->gaps[o->gap].height;
    int number = number_on(a, o->standing, o->column);
    if (!is_even(a, base, gap) || !needs_met(a, o, z, gap))
        return;
    bool stocked = take_shelves(a, column, o->way, 1);
    stocked = take_posts(a, column, under, 1) && stocked;
    if (stocked && lies(c, column, o->way, z)) {
        a->now[a->n++] = (struct step){o->standing, o->column, o->way, o->gap, under, number, z};
        if (o->gap >= 0)
            go_up(a, up, z + gap, o->gap, gained + o->value);
        else if (up->standing < 0)
            keep_if_better(a, gained + o->value);
        else {
            lane next = *up;
            next.column++;
            begin_column(a, &next, gained + o->value);
        }
        a->n--;
    }
    take_posts(a, column, under, -1);
    take_shelves(a, column, o->way, -1);
}

static void go_up(ascent *a, const lane *up, ks_um base, int under, double gained)
{
    bool is_there = a->c->wish->only_on && a->n_found > 0;
    if (++a->nodes > (a->listing ? LISTING_NODES : NODES_MOST) || is_there ||
        ks_stop_is_asked(a->c->wish->job->stop))
        return;
    option *options = malloc((size_t)a->options_most * sizeof *options);
    if (!options)
        ks_no_memory();
    footing at = {base, under, gained + promised_beside(a, up)};
    int n = options_at(a, up, at, options);
    for (int i = 0; i < n; i++) {
        if (!is_wanted(a, at, options[i].promise))
            break;
        if (options[i].way >= 0) {
            set_level(a, up, &options[i], base, under, gained);
            continue;
        }
        lane part = {options[i].standing, 0, base, under};
        if (!a->c->wish->only_on || needs_built(a, INT_MAX, part.standing))
            begin_column(a, &part, gained);
    }
    free(options);
}

static ks_um thickest(const ks_furniture *f)
{
    ks_um most = 0;
    for (int s = 0; s < f->n_post_layouts; s++)
        for (int k = 0; k < f->post_layouts[s].n_columns; k++)
            for (int w = 0; w < f->post_layouts[s].columns[k].n_ways; w++)
                if (f->post_layouts[s].columns[k].ways[w].thickness > most)
                    most = f->post_layouts[s].columns[k].ways[w].thickness;
    return most;
}

/* Floor posts shorter than this bear no bottom shelf as high as one has to be. */
static ks_um shortest_floor(const ascent *a)
{
    const ks_stack_wish *wish = a->c->wish;
    ks_um least_z = 0;
    for (int i = 0; i < wish->n_needs; i++)
        if (wish->needs[i].number == 0 && wish->needs[i].least_z > least_z)
            least_z = wish->needs[i].least_z;
    return least_z > 0 ? least_z - thickest(a->c->furniture) : 0;
}

static void climb_from_floor(ascent *a)
{
    const ks_um shortest = shortest_floor(a);
    const ks_furniture *f = a->c->furniture;
    lane in_step = {.standing = -1};
    for (int g = -1, tried = 0; g < f->n_gaps && tried < FLOORS_TRIED; g++) {
        if (!ks_floor_gap(f, g) || (g < 0 ? 0 : f->gaps[g].height) < shortest)
            continue;
        tried++;
        a->nodes = 0;
        in_step.base = a->floor = g < 0 ? 0 : f->gaps[g].height;
        in_step.under = g;
        go_up(a, &in_step, in_step.base, g, 0);
    }
}

static int by_height(const void *x, const void *y)
{
    const ks_stack_level *a = x, *b = y;
    if (a->z != b->z)
        return a->z < b->z ? -1 : 1;
    return a->bay - b->bay;
}

static ks_stack stack_of(const ks_stack_program *c, const struct step *steps, int n_steps,
                         double value, ks_arena *arena)
{
    ks_stack stack = {.value = value};
    int n = 0;
    for (int i = 0; i < n_steps; i++)
        n += c->furniture->post_layouts[steps[i].standing].columns[steps[i].column].n_bays;
    stack.levels = KS_TAKE(arena, n, ks_stack_level);
    for (int i = 0; i < n_steps; i++) {
        const struct step *s = &steps[i];
        const ks_column *column = &c->furniture->post_layouts[s->standing].columns[s->column];
        ks_um gap = s->gap < 0 ? c->top - s->z : c->furniture->gaps[s->gap].height;
        for (int b = 0; b < column->n_bays; b++)
            stack.levels[stack.n_levels++] = (ks_stack_level){
                .bay = column->bays[b],
                .support = column->ways[s->way].supports[b],
                .standing = s->standing,
                .column = s->column,
                .z = s->z,
                .gap = gap,
                .under = s->under,
                .posts = s->gap,
            };
    }
    qsort(stack.levels, (size_t)stack.n_levels, sizeof *stack.levels, by_height);
    for (int i = 0; i < stack.n_levels; i++)
        for (int k = 0; k < i; k++)
            stack.levels[i].number += stack.levels[k].bay == stack.levels[i].bay;
    return stack;
}

/* The most that can be chosen from at one height: each gap and the lid over each shelving. */
static int options_in_all(const ks_furniture *f)
{
    int n = 0;
    for (int s = 0; s < f->n_post_layouts; s++)
        for (int k = 0; k < f->post_layouts[s].n_columns; k++)
            n += 1 + f->post_layouts[s].columns[k].n_ways * (f->n_gaps + 1);
    return n;
}

static ascent begin_ascent(ks_stack_program *climb, ks_arena *arena)
{
    const ks_kiln *kiln = climb->furniture->kiln;
    int shelves = 0;
    for (int i = 0; i < kiln->n_shelves; i++)
        shelves += kiln->shelves[i].count;
    return (ascent){.c = climb,
                    .shelves = shelves,
                    .options_most = options_in_all(climb->furniture),
                    .post_left = KS_TAKE(arena, kiln->n_posts, int),
                    .shelf_left = KS_TAKE(arena, kiln->n_shelves, int),
                    .now = KS_TAKE(arena, shelves, struct step),
                    .found = KS_TAKE(arena, shelves, struct step)};
}

static void climb_all_places(ascent *a)
{
    const ks_stack_program *c = a->c;
    const ks_kiln *kiln = c->furniture->kiln;
    for (int p = 0; p < c->furniture->n_places; p++) {
        if (c->wish->only_on && *c->wish->only_on != p)
            continue;
        a->places = p;
        for (int i = 0; i < kiln->n_posts; i++)
            a->post_left[i] = kiln->posts[i].count;
        for (int i = 0; i < kiln->n_shelves; i++)
            a->shelf_left[i] = kiln->shelves[i].count;
        climb_from_floor(a);
    }
}

/* Where only what is asked for is built: in columns of their own if it can be, so that no bay gets
 * shelves for the sake of those beside it. */
static ks_stack best_at_cost(ks_stack_program *climb, double shelf_cost, ks_arena *arena)
{
    ks_arena scratch = {0};
    ks_stack_program_price(climb, shelf_cost);
    const ks_kiln *kiln = climb->furniture->kiln;
    ascent a = begin_ascent(climb, &scratch);
    a.every_bay = climb->wish->only_on != NULL;
    climb_all_places(&a);
    if (a.every_bay && a.n_found == 0) {
        a.every_bay = false;
        climb_all_places(&a);
    }
    ks_stack stack = stack_of(climb, a.found, a.n_found, a.found_value, arena);
    for (int l = 0; l < stack.n_levels; l++)
        stack.value += shelf_cost *
                       kiln->bays[stack.levels[l].bay].supports[stack.levels[l].support].n_shelves;
    ks_arena_finish(&scratch);
    return stack;
}

int ks_stacks_good(const ks_stack_wish *wish, int most, ks_stack *out, ks_arena *arena)
{
    ks_arena scratch = {0};
    ks_stack_program climb;
    ks_stack_program_init(&climb, wish, &scratch);
    ks_stack_program_price(&climb, wish->shelf_cost);
    ascent a = begin_ascent(&climb, &scratch);
    struct listing listing = {0, most, KS_TAKE(&scratch, most, struct listed)};
    for (int i = 0; i < most; i++)
        listing.of[i].steps = KS_TAKE(&scratch, a.shelves, struct step);
    a.listing = &listing;
    climb_all_places(&a);
    for (int i = 0; i < listing.n; i++)
        out[i] = stack_of(&climb, listing.of[i].steps, listing.of[i].n, listing.of[i].value, arena);
    ks_arena_finish(&scratch);
    return listing.n;
}

/* Several columns or shelves side by side compete for the shelves in stock. */
static bool competes_for_shelves(const ks_furniture *furniture)
{
    const ks_kiln *kiln = furniture->kiln;
    for (int s = 0; s < furniture->n_post_layouts; s++)
        if (furniture->post_layouts[s].n_columns > 1)
            return true;
    for (int b = 0; b < kiln->n_bays; b++)
        for (int i = 0; i < kiln->bays[b].n_supports; i++)
            if (kiln->bays[b].supports[i].n_shelves > 1)
                return true;
    return false;
}

/* What a shelf should cost is tried: a little, so that none lies idle, and more where shelves are
 * short. */
ks_stack ks_stack_best(const ks_stack_wish *wish, ks_arena *arena)
{
    static const double parts[] = {0.03, 0.2, 0.4, 0.65};
    ks_arena scratch = {0};
    ks_stack_program climb;
    ks_stack_program_init(&climb, wish, &scratch);
    ks_stack best = best_at_cost(&climb, wish->shelf_cost, arena);
    size_t tried = competes_for_shelves(wish->kind->furniture) ? sizeof parts / sizeof *parts : 1;
    double each = best.n_levels > 0 && !wish->only_on ? best.value / best.n_levels : 0;
    for (size_t i = 0; i < tried && each > 0; i++) {
        ks_stack stack = best_at_cost(&climb, parts[i] * each, arena);
        if (stack.n_levels > 0 && stack.value > best.value * (1 - 1e-6))
            best = stack;
    }
    ks_arena_finish(&scratch);
    return best;
}
