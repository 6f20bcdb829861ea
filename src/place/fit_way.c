#include "place/fit_way.h"

#include "place/roomiest.h"

#include <math.h>

#define COARSE_MM 1.0

/* Less than this over a shelf holds no ware worth the shelf. */
static const double level_least_mm = 40;

ks_status ks_fit_case_of(const ks_order *order, const ks_piece *pieces, int n_pieces,
                         const ks_kiln *kiln, ks_arena *arena, ks_fit_case *out, ks_error *err)
{
    *out = (ks_fit_case){.order = *order, .kiln = *kiln};
    ks_piece *alone = KS_TAKE(arena, n_pieces, ks_piece);
    ks_slot *slot = KS_TAKE(arena, 1, ks_slot);
    for (int i = 0; i < n_pieces; i++) {
        alone[i] = pieces[i];
        alone[i].locked_out = false;
        alone[i].on_id = NULL;
    }
    *slot = (ks_slot){.firing = 0, .day = KS_NO_DAY};
    out->order.pieces = alone;
    out->order.n_pieces = n_pieces;
    out->order.kilns = &out->kiln;
    out->order.n_kilns = 1;
    out->order.slots = slot;
    out->order.n_slots = 1;
    out->order.rules.cones.wanted = false;
    ks_place_options options = ks_place_default();
    options.reserve_mm = 0;
    ks_status status = ks_job_init(&out->job, &out->order, &options, arena, err);
    if (!status)
        out->kind = out->job.kinds[0];
    return status;
}

/* The lowest posts the floor may have; -1 = none are needed. *none when there are none such. */
static int floor_gap(const ks_furniture *furniture, bool *none)
{
    double least = furniture->kiln->floor_post_least_mm;
    *none = false;
    for (int g = 0; g < furniture->n_gaps; g++)
        if (ks_mm_of(furniture->gaps[g].height) >= least)
            return least > 0 ? g : -1;
    *none = least > 0;
    return -1;
}

/* The smallest gap over the level that leaves the piece its height and another level room. */
static int gap_over(const ks_fit_case *asked, double z_mm, double height_mm, double thickness_mm)
{
    const ks_furniture *f = asked->kind.furniture;
    for (int g = 0; g < f->n_gaps; g++) {
        double gap = ks_mm_of(f->gaps[g].height);
        double left = asked->kiln.height_mm - z_mm - gap - thickness_mm - asked->kind.clear.lid;
        if (gap - asked->kind.clear.above >= height_mm && left >= level_least_mm)
            return g;
    }
    return -1;
}

/* In what order the space was built: walls, the bay, the shelf for feet, the shelf for bodies. */
static const char *region_name(const ks_fit_case *asked, const ks_shelf_space *space, int region)
{
    if (region >= space->n_regions - 2)
        return "shelf edge";
    return region == space->n_regions - 3 && asked->kiln.n_bays > 1 ? "edge of its bay" : "wall";
}

static const char *obstacle_name(const ks_fit_case *asked, const ks_shelf_space *space,
                                 int obstacle)
{
    double clearance = space->obstacles[obstacle].clearance_mm;
    for (int i = 0; i < asked->kiln.n_keep_outs; i++)
        if (asked->kiln.keep_outs[i].outline.at == space->obstacles[obstacle].outline.at &&
            clearance == asked->kiln.keep_outs[i].clearance_mm)
            return asked->kiln.keep_outs[i].kind;
    return "post";
}

static ks_fit_way way_judged(const ks_fit_case *asked, const ks_stack_level *level,
                             double within_mm, ks_arena *arena)
{
    ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, level, arena);
    const ks_shelf_item *item = &asked->job.items[0];
    ks_roomiest spot = ks_roomiest_find(&space, item, within_mm);
    double clear = ks_level_clear_mm(&asked->kind, level);
    return (ks_fit_way){
        .possible = true,
        .bay = level->bay,
        .support = level->support,
        .shelf_over = level->posts >= 0,
        .z_mm = ks_mm_of(level->z),
        .clear_mm = clear,
        .stand = spot.stand,
        .around_mm = spot.slack_mm,
        .above_mm = clear - asked->job.height_mm[0],
        .tightest = spot.obstacle >= 0 ? obstacle_name(asked, &space, spot.obstacle)
                    : spot.region >= 0 ? region_name(asked, &space, spot.region)
                                       : "nothing",
    };
}

static double spare(const ks_fit_way *way)
{
    return way->possible ? fmin(way->around_mm, way->above_mm) : -INFINITY;
}

/* A shelf over it is as good as none, and worth having, as long as all is kept. */
static bool better(const ks_fit_way *a, const ks_fit_way *b)
{
    bool a_fits = spare(a) >= 0, b_fits = spare(b) >= 0;
    if (a_fits && b_fits && a->shelf_over != b->shelf_over)
        return a->shelf_over;
    return spare(a) > spare(b);
}

static void height_shared(const ks_fit_case *asked, double thickness_mm, ks_fit_way *way)
{
    double over =
        asked->kiln.height_mm - way->z_mm - asked->job.height_mm[0] - asked->kind.clear.lid;
    way->below_mm = fmax(0, over - thickness_mm);
    way->left_over_mm = way->shelf_over ? way->below_mm : 0;
}

static void under_lid_tried(const ks_fit_case *asked, const ks_fit_levels *levels, int l,
                            ks_fit_way *best, ks_stack_level *best_level, ks_arena *arena)
{
    if (levels->again[l])
        return;
    ks_fit_way way = way_judged(asked, &levels->levels[l], COARSE_MM, arena);
    if (!better(&way, best))
        return;
    *best = way;
    *best_level = levels->levels[l];
    height_shared(asked, levels->thickness_mm[l], best);
}

static void under_shelf_tried(const ks_fit_case *asked, const ks_fit_levels *levels, int l,
                              ks_fit_way *best, ks_stack_level *best_level, ks_arena *arena)
{
    const ks_stack_level *level = &levels->levels[l];
    double thickness_mm = levels->thickness_mm[l];
    int over = gap_over(asked, ks_mm_of(level->z), asked->job.height_mm[0], thickness_mm);
    if (over < 0)
        return;
    ks_stack_level covered = *level;
    covered.posts = over;
    covered.gap = asked->kind.furniture->gaps[over].height;
    ks_fit_way under_shelf = way_judged(asked, &covered, COARSE_MM, arena);
    if (better(&under_shelf, best)) {
        *best = under_shelf;
        *best_level = covered;
        height_shared(asked, thickness_mm, best);
    }
}

static bool came_before(const ks_fit_levels *levels, const ks_stack_level *level)
{
    for (int l = 0; l < levels->n; l++)
        if (levels->levels[l].bay == level->bay && levels->levels[l].support == level->support)
            return true;
    return false;
}

static void level_noted(ks_fit_levels *to, ks_stack_level level, ks_um thickness)
{
    to->again[to->n] = came_before(to, &level);
    to->thickness_mm[to->n] = ks_mm_of(thickness);
    to->levels[to->n++] = level;
}

static int ways_of_all(const ks_furniture *f)
{
    int n = 0;
    for (int s = 0; s < f->n_standings; s++)
        for (int c = 0; c < f->standings[s].n_columns; c++)
            n += f->standings[s].columns[c].n_ways * f->standings[s].columns[c].n_bays;
    return n;
}

ks_fit_levels ks_fit_bottom_levels(const ks_fit_case *asked, ks_arena *arena)
{
    const ks_furniture *f = asked->kind.furniture;
    int most = ways_of_all(f);
    ks_fit_levels out = {.levels = KS_TAKE(arena, most, ks_stack_level),
                         .thickness_mm = KS_TAKE(arena, most, double),
                         .again = KS_TAKE(arena, most, bool)};
    bool none;
    int floor = floor_gap(f, &none);
    ks_um floor_height = floor >= 0 ? f->gaps[floor].height : 0;
    for (int s = 0; s < f->n_standings && !none; s++)
        for (int c = 0; c < f->standings[s].n_columns; c++) {
            const ks_column *column = &f->standings[s].columns[c];
            for (int i = 0; i < column->n_ways * column->n_bays; i++) {
                int way = i / column->n_bays, bay = i % column->n_bays;
                ks_stack_level level = {.bay = column->bays[bay], .standing = s, .column = c};
                level.support = column->ways[way].supports[bay];
                level.z = floor_height + column->ways[way].thickness;
                level.gap = ks_um_of(asked->kiln.height_mm) - level.z;
                level.under = floor;
                level.posts = -1;
                level_noted(&out, level, column->ways[way].thickness);
            }
        }
    return out;
}

/* All ways to a millimetre, then the best of them as closely as asked. */
ks_fit_way ks_fit_best_way(const ks_fit_case *asked, double within_mm, ks_arena *arena)
{
    ks_fit_way best = {0};
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    ks_stack_level level = {0};
    for (int l = 0; l < levels.n; l++)
        under_lid_tried(asked, &levels, l, &best, &level, arena);
    bool fits = spare(&best) >= 0;
    for (int l = 0; l < levels.n && fits; l++)
        under_shelf_tried(asked, &levels, l, &best, &level, arena);
    if (!best.possible)
        return best;
    ks_fit_way fine = way_judged(asked, &level, within_mm, arena);
    fine.below_mm = best.below_mm;
    fine.left_over_mm = best.left_over_mm;
    return fine;
}

bool ks_fit_somehow(const ks_fit_case *asked, ks_arena *arena)
{
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    for (int l = 0; l < levels.n; l++) {
        if (levels.again[l])
            continue;
        ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, &levels.levels[l], arena);
        if (asked->job.height_mm[0] <= space.height_mm &&
            ks_roomiest_reaches(&space, &asked->job.items[0], 0, 0.2))
            return true;
    }
    return false;
}
