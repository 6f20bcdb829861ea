#include "place/stack/stack_bound.h"

/* Far below the grid of heights, and far above what sums of lengths may lose. */
static const double hair_mm = 1e-9;

double ks_gap_clear_mm(const ks_load_kind *kind, ks_um gap, bool top)
{
    return ks_mm_of(gap) - (top ? kind->clear.lid : kind->clear.above) + hair_mm;
}

static bool has_lintel(const ks_kiln *kiln)
{
    return kiln->loading == KS_FRONT_LOADER && kiln->opening_height_mm > 0;
}

static double lintel_mm(const ks_kiln *kiln)
{
    return kiln->opening_sill_mm + kiln->opening_height_mm;
}

/* Up to heights at which the order wants no ware; of a level in between nothing is left. */
static double clear_below_no_ware(const ks_load_kind *kind, double z, double clear)
{
    for (int i = 0; kind->rules && i < kind->rules->n_no_ware; i++) {
        const ks_no_ware *no = &kind->rules->no_ware[i];
        if (no->level.word == KS_ANY_LEVEL && z >= 0 && z < no->to_mm && z + clear > no->from_mm)
            clear = no->from_mm - z + hair_mm;
    }
    return clear;
}

double ks_level_clear_mm(const ks_load_kind *kind, const ks_stack_level *level)
{
    const ks_kiln *kiln = kind->furniture->kiln;
    double clear = ks_gap_clear_mm(kind, level->gap, level->posts < 0), z = ks_mm_of(level->z);
    clear = clear_below_no_ware(kind, z, clear);
    if (!has_lintel(kiln))
        return clear;
    double over = z > kiln->opening_sill_mm ? z : kiln->opening_sill_mm;
    double door = lintel_mm(kiln) - over + hair_mm;
    return door < clear ? door : clear;
}

static bool has_no_ware_heights(const ks_load_kind *kind)
{
    for (int i = 0; kind->rules && i < kind->rules->n_no_ware; i++)
        if (kind->rules->no_ware[i].level.word == KS_ANY_LEVEL)
            return true;
    return false;
}

/* As high as this or lower, and clear of heights that take no ware. */
static ks_um below_no_ware(const ks_load_kind *kind, double height_mm, ks_um z)
{
    bool moved = true;
    while (moved && has_no_ware_heights(kind)) {
        moved = false;
        for (int i = 0; i < kind->rules->n_no_ware; i++) {
            const ks_no_ware *no = &kind->rules->no_ware[i];
            if (no->level.word != KS_ANY_LEVEL || ks_mm_of(z) >= no->to_mm ||
                ks_mm_of(z) + height_mm <= no->from_mm)
                continue;
            z = ks_um_of(no->from_mm) - ks_um_over(height_mm);
            moved = true;
        }
    }
    return z;
}

/* The highest that shelves may lie with ware so tall on them and nothing over it. */
static ks_um highest_for(const ks_stack_program *c, double height_mm)
{
    ks_um z = c->top - ks_um_over(height_mm + c->wish->kind->clear.lid);
    if (has_lintel(c->furniture->kiln)) {
        ks_um door = ks_um_of(lintel_mm(c->furniture->kiln)) - ks_um_over(height_mm);
        z = door < z ? door : z;
    }
    return below_no_ware(c->wish->kind, height_mm, z);
}

static int shelves_of(const ks_stack_program *c, int bay, int support)
{
    return c->furniture->kiln->bays[bay].supports[support].n_shelves;
}

static double value_of(const ks_stack_program *c, const ks_column_value *cv, int way,
                       ks_stack_level level)
{
    double sum = 0;
    for (int b = 0; b < cv->column->n_bays; b++) {
        level.bay = cv->column->bays[b];
        level.support = cv->column->ways[way].supports[b];
        level.standing = cv->standing;
        level.column = cv->index;
        sum += c->wish->value(c->wish->context, &level) -
               c->shelf_cost * shelves_of(c, level.bay, level.support);
    }
    return sum;
}

/* Where heights take no ware, a level's value is by where it is: none below them, maybe. */
double ks_stack_program_gap(const ks_stack_program *climb, const ks_column_value *column, int way,
                            int gap, ks_um z)
{
    double value = column->gap_value[way * climb->furniture->n_gaps + gap];
    const ks_load_kind *kind = climb->wish->kind;
    if (value <= KS_NEVER || !has_no_ware_heights(kind))
        return value;
    ks_stack_level level = {.gap = climb->furniture->gaps[gap].height, .posts = gap, .z = z};
    bool bare = ks_height_index(climb->wish->job, ks_level_clear_mm(kind, &level)) < 0;
    return bare ? 0 : value_of(climb, column, way, level);
}

static void find_useful(ks_stack_program *c)
{
    const ks_furniture *f = c->furniture;
    c->cap_mm = KS_TAKE(c->arena, f->n_gaps, double);
    c->useful = KS_TAKE(c->arena, f->n_gaps, bool);
    c->useful_um = KS_TAKE(c->arena, f->n_gaps, ks_um);
    for (int g = 0; g < f->n_gaps; g++) {
        c->cap_mm[g] =
            ks_job_cap(c->wish->job, ks_gap_clear_mm(c->wish->kind, f->gaps[g].height, false));
        c->useful[g] = c->cap_mm[g] > 0 && (g == 0 || c->cap_mm[g] != c->cap_mm[g - 1]);
        if (c->useful[g])
            c->useful_um[c->n_useful++] = f->gaps[g].height;
    }
}

static void value_gaps(const ks_stack_program *c, ks_column_value *cv, int way)
{
    int gaps = c->furniture->n_gaps, n = way * c->n_useful;
    for (int g = 0; g < gaps; g++) {
        double *value = &cv->gap_value[way * gaps + g];
        ks_stack_level level = {.gap = c->furniture->gaps[g].height, .posts = g, .z = -1};
        *value = c->cap_mm[g] <= 0 ? KS_NEVER
                 : c->useful[g]    ? value_of(c, cv, way, level)
                                   : value[-1];
        if (c->useful[g])
            cv->useful_value[n++] = *value;
    }
}

static void value_tops(ks_stack_program *c, ks_column_value *cv, int way)
{
    const ks_job *job = c->wish->job;
    for (int h = 0; h < job->n_heights; h++) {
        ks_um z = highest_for(c, job->heights_mm[h]);
        ks_stack_level level = {.gap = c->top - z, .posts = -1, .z = z};
        cv->top_value[way * job->n_heights + h] =
            level.z < 0 ? KS_NEVER : value_of(c, cv, way, level);
    }
}

double ks_stack_program_top(const ks_stack_program *climb, const ks_column_value *column, int way,
                            ks_um z)
{
    const ks_job *job = climb->wish->job;
    ks_stack_level level = {.gap = climb->top - z, .posts = -1, .z = z};
    int h = ks_height_index(job, ks_level_clear_mm(climb->wish->kind, &level));
    if (h < 0 || level.gap < ks_um_of(climb->furniture->kiln->top_gap_mm))
        return KS_NEVER;
    return column->top_value[way * job->n_heights + h];
}

/* Each height summed so far may have lost up to a quantum. At least sixteen of them are granted: a
 * looser promise sends the search to more unlike stacks, and real layouts then choose among those
 * (the order `first`: 26 of 27 pieces on most seeds, 24 with a promise as tight as can be). */
static bool may_lie(const ks_stack_program *c, const ks_column *column, int way, ks_um z)
{
    enum { LEVELS_GRANTED = 16 };
    int levels = c->levels_most > LEVELS_GRANTED ? c->levels_most : LEVELS_GRANTED;
    ks_um lost = (levels + 1) * KS_QUANTUM_UM;
    for (int b = 0; b < column->n_bays; b++)
        if (!ks_support_lies(c->furniture, column->bays[b], column->ways[way].supports[b], z,
                             z + lost))
            return false;
    return true;
}

/* Looked up for each number of levels, so worked out once. */
static void look_at_bases(const ks_stack_program *c, ks_column_value *cv, int way)
{
    ks_um thick = cv->column->ways[way].thickness;
    for (int b = 0; b < c->n_bases; b++)
        cv->lies[way * c->n_bases + b] =
            may_lie(c, cv->column, way, (ks_um)b * KS_QUANTUM_UM + thick);
    for (int u = 0; u < c->n_useful; u++)
        cv->useful_quanta[way * c->n_useful + u] = (int)((thick + c->useful_um[u]) / KS_QUANTUM_UM);
}

static void value_bases(const ks_stack_program *c, ks_column_value *cv, int way)
{
    for (int b = 0; b < c->n_bases; b++)
        cv->top[way * c->n_bases + b] = ks_stack_program_top(
            c, cv, way, (ks_um)b * KS_QUANTUM_UM + cv->column->ways[way].thickness);
}

/* Whether ware as tall as is asked for goes in under this gap, or on a top level from this base. */
static bool takes_tall(const ks_stack_program *c, int useful)
{
    return ks_job_cap(c->wish->job, ks_gap_clear_mm(c->wish->kind, c->useful_um[useful], false)) >=
           c->wish->tall_mm;
}

static bool top_takes_tall(const ks_stack_program *c, const ks_column_value *cv, int way, int base)
{
    ks_um z = (ks_um)base * KS_QUANTUM_UM + cv->column->ways[way].thickness;
    return ks_gap_clear_mm(c->wish->kind, c->top - z, true) >= c->wish->tall_mm;
}

static const double *layer_below(const ks_stack_program *c, const double *rest, int levels,
                                 int base)
{
    int below = c->layers == 1 ? 1 : levels - 1;
    return rest && below > 0 ? &rest[(below - 1) * c->n_bases + base] : NULL;
}

/* The most that one more level of this column can begin, the others taken from `rest`. Where a tall
 * level is asked for, `tall` is what those others come to with one; else NULL. */
static double best_step(const ks_stack_program *c, const ks_column_value *cv, const double *rest,
                        const double *tall, int levels, int base)
{
    const double *then = layer_below(c, rest, levels, base);
    const double *then_tall = layer_below(c, tall, levels, base);
    double most = KS_NEVER;
    for (int w = 0; w < cv->column->n_ways; w++) {
        if (!cv->lies[w * c->n_bases + base])
            continue;
        double value = cv->top[w * c->n_bases + base];
        if (!tall || top_takes_tall(c, cv, w, base))
            most = value > most ? value : most;
        ks_um room = c->top - (ks_um)base * KS_QUANTUM_UM - cv->column->ways[w].thickness;
        const double *gain = &cv->useful_value[w * c->n_useful];
        const int *quanta = &cv->useful_quanta[w * c->n_useful];
        for (int u = 0; then && u < c->n_useful && c->useful_um[u] < room; u++) {
            value = gain[u] + (tall && !takes_tall(c, u) ? then_tall : then)[quanta[u]];
            most = value > most ? value : most;
        }
    }
    return most < KS_NEVER / 2 ? KS_NEVER : most;
}

/* Whatever can be begun higher up can be begun here, over a gap that is higher than its ware asks:
 * only the least of those gaps is tried, and shelves may not lie everywhere. */
static double or_higher(const double *best, int b, int n_bases, double value)
{
    return b + 1 < n_bases && best[b + 1] > value ? best[b + 1] : value;
}

static bool is_stopped(const ks_stack_program *c)
{
    return ks_stop_is_asked(c->wish->job->stop);
}

/* `tall` NULL, or the array to fill: then `best` is there already. */
static void climb_column(const ks_stack_program *c, ks_column_value *cv, double *tall)
{
    for (int l = 1; l <= c->layers && !is_stopped(c); l++) {
        double *layer = (tall ? tall : cv->best) + (l - 1) * c->n_bases;
        for (int b = c->n_bases - 1; b >= 0; b--)
            layer[b] = or_higher(layer, b, c->n_bases, best_step(c, cv, cv->best, tall, l, b));
    }
}

static double not_below_0(double x)
{
    return x > 0 ? x : 0;
}

/* Parting into columns for good: a bay may stay empty, but not all of them. Where a tall level is
 * asked for, any one of them has it. */
static double best_parted(const ks_stack_program *c, const ks_post_layout *st,
                          const ks_column_value *cv, bool tall, int at)
{
    double sum = 0, most_lost = KS_NEVER;
    bool any = false;
    for (int k = 0; k < st->n_columns; k++) {
        double part = cv[k].best[at];
        any = any || part > KS_NEVER / 2;
        sum += not_below_0(part);
        double lost = tall ? cv[k].tall[at] - not_below_0(part) : 0;
        most_lost = lost > most_lost ? lost : most_lost;
    }
    if (!any || most_lost < KS_NEVER / 2)
        return KS_NEVER;
    return sum + most_lost;
}

static double best_at(const ks_stack_program *c, int places, const double *best, const double *tall,
                      int levels, int base)
{
    double most = KS_NEVER;
    for (int s = 0; s < c->furniture->n_post_layouts; s++) {
        const ks_post_layout *st = &c->furniture->post_layouts[s];
        const ks_column_value *cv = &c->columns[c->first_column[s]];
        if (st->places != places)
            continue;
        double value = st->n_columns == 1
                           ? best_step(c, cv, best, tall, levels, base)
                           : best_parted(c, st, cv, tall != NULL, (levels - 1) * c->n_bases + base);
        most = value > most ? value : most;
    }
    return most;
}

/* Going up from one base on given places of posts: any arrangement in step, level by level, or
 * parting into columns for good. `tall` as above. */
static void climb_places(const ks_stack_program *c, int places, double *tall)
{
    const double *best = c->places[places];
    for (int l = 1; l <= c->layers && !is_stopped(c); l++) {
        double *layer = (tall ? tall : c->places[places]) + (l - 1) * c->n_bases;
        for (int b = c->n_bases - 1; b >= 0; b--)
            layer[b] = or_higher(layer, b, c->n_bases, best_at(c, places, best, tall, l, b));
    }
}

static int shelves_in_all(const ks_kiln *kiln)
{
    int sum = 0;
    for (int s = 0; s < kiln->n_shelves; s++)
        sum += kiln->shelves[s].count;
    return sum;
}

static void begin_column(const ks_stack_program *c, ks_column_value *cv, bool goes_up)
{
    int ways = cv->column->n_ways;
    cv->gap_value = KS_TAKE(c->arena, ways * c->furniture->n_gaps, double);
    cv->useful_value = KS_TAKE(c->arena, ways * c->n_useful, double);
    cv->useful_quanta = KS_TAKE(c->arena, ways * c->n_useful, int);
    cv->top_value = KS_TAKE(c->arena, ways * c->wish->job->n_heights, double);
    cv->lies = KS_TAKE(c->arena, ways * c->n_bases, bool);
    cv->top = KS_TAKE(c->arena, ways * c->n_bases, double);
    cv->best = goes_up ? KS_TAKE(c->arena, c->layers * c->n_bases, double) : NULL;
    cv->tall = goes_up && c->tall ? KS_TAKE(c->arena, c->layers * c->n_bases, double) : NULL;
    for (int w = 0; w < ways; w++)
        look_at_bases(c, cv, w);
}

static void list_columns(ks_stack_program *c)
{
    const ks_furniture *f = c->furniture;
    int n = 0;
    for (int s = 0; s < f->n_post_layouts; s++)
        n += f->post_layouts[s].n_columns;
    c->columns = KS_TAKE(c->arena, n, ks_column_value);
    for (int s = 0; s < f->n_post_layouts; s++) {
        c->first_column[s] = c->n_columns;
        for (int k = 0; k < f->post_layouts[s].n_columns; k++) {
            ks_column_value *cv = &c->columns[c->n_columns++];
            *cv = (ks_column_value){
                .column = &f->post_layouts[s].columns[k], .standing = s, .index = k};
            begin_column(c, cv, f->post_layouts[s].n_columns > 1);
        }
    }
}

void ks_stack_program_price(ks_stack_program *climb, double shelf_cost)
{
    climb->shelf_cost = shelf_cost;
    for (int k = 0; k < climb->n_columns && !is_stopped(climb); k++) {
        ks_column_value *cv = &climb->columns[k];
        for (int w = 0; w < cv->column->n_ways; w++) {
            value_gaps(climb, cv, w);
            value_tops(climb, cv, w);
            value_bases(climb, cv, w);
        }
        if (cv->best)
            climb_column(climb, cv, NULL);
        if (cv->tall)
            climb_column(climb, cv, cv->tall);
    }
    const int *only = climb->wish->only_on;
    for (int p = 0; p < climb->furniture->n_places; p++)
        if (!only || *only == p)
            climb_places(climb, p, NULL);
    for (int p = 0; p < climb->furniture->n_places && climb->tall; p++)
        climb_places(climb, p, climb->tall[p]);
}

/* So many shelves, or as many as the lowest gaps leave room for over one another. */
static int levels_in_height(const ks_furniture *f, int shelves)
{
    double thinnest = f->kiln->height_mm;
    for (int s = 0; s < f->kiln->n_shelves; s++)
        thinnest = f->kiln->shelves[s].thickness_mm < thinnest ? f->kiln->shelves[s].thickness_mm
                                                               : thinnest;
    ks_um each = ks_um_of(thinnest) + (f->n_gaps > 0 ? f->gaps[0].height : 0);
    ks_um room = 1 + ks_um_of(f->kiln->height_mm) / (each > 0 ? each : 1);
    return shelves < room ? shelves : (int)room;
}

void ks_stack_program_init(ks_stack_program *climb, const ks_stack_wish *wish, ks_arena *arena)
{
    const ks_furniture *f = wish->kind->furniture;
    int shelves = shelves_in_all(f->kiln);
    *climb = (ks_stack_program){.wish = wish, .arena = arena, .furniture = f};
    climb->top = ks_um_of(f->kiln->height_mm);
    climb->n_bases = (int)(climb->top / KS_QUANTUM_UM) + 1;
    climb->levels_most = levels_in_height(f, shelves);
    climb->layers = climb->levels_most <= KS_LEVELS_COUNTED ? climb->levels_most : 1;
    climb->first_column = KS_TAKE(arena, f->n_post_layouts, int);
    climb->places = KS_TAKE(arena, f->n_places, double *);
    climb->tall = wish->tall_mm > 0 ? KS_TAKE(arena, f->n_places, double *) : NULL;
    find_useful(climb);
    list_columns(climb);
    for (int p = 0; p < f->n_places; p++) {
        climb->places[p] = KS_TAKE(arena, climb->layers * climb->n_bases, double);
        if (climb->tall)
            climb->tall[p] = KS_TAKE(arena, climb->layers * climb->n_bases, double);
    }
}

bool ks_floor_gap(const ks_furniture *furniture, int gap)
{
    if (gap < 0)
        return furniture->kiln->floor_post_least_mm <= 0;
    return furniture->gaps[gap].height >= ks_um_of(furniture->kiln->floor_post_least_mm);
}

double ks_stack_bound(const ks_stack_wish *wish, ks_arena *arena)
{
    ks_stack_program climb;
    ks_stack_program_init(&climb, wish, arena);
    ks_stack_program_price(&climb, wish->shelf_cost);
    const ks_furniture *f = climb.furniture;
    ks_um lowest = ks_floor_gap(f, -1) ? 0 : ks_um_of(f->kiln->floor_post_least_mm);
    double most = 0;
    for (int p = 0; p < f->n_places; p++) {
        double value = ks_stack_program_rest(&climb, climb.tall ? climb.tall[p] : climb.places[p],
                                             climb.levels_most, lowest);
        most = value > most ? value : most;
    }
    return most;
}
