#include "fit/fit_way.h"

#include "base/language.h"
#include "fit/fit_hand.h"
#include "place/stack/stack_bound.h"
#include "studio/lifting.h"

#include <math.h>

#define COARSE_MM 1.0

/* Less than this over a shelf holds no ware worth the shelf. */
static const double level_least_mm = 40;

/* The hottest firing that its body and glazes allow, once it is dry; the first of all when none
 * does. */
int ks_fit_firing(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    int best = -1;
    ks_piece dry = *piece;
    dry.dries_in_kiln = true;
    for (int f = 0; f < order->n_firings; f++)
        if (ks_piece_suits(order, &dry, &order->firings[f], NULL) &&
            (best < 0 ||
             ks_cone_rank(order->firings[f].cone) > ks_cone_rank(order->firings[best].cone)))
            best = f;
    return best < 0 ? 0 : best;
}

ks_status ks_fit_case_of(const ks_order *order, const ks_piece *pieces, int n_pieces,
                         const ks_kiln *kiln, ks_fit_known *known, ks_arena *arena,
                         ks_fit_case *out, ks_error *err)
{
    *out = (ks_fit_case){.order = *order, .kiln = *kiln};
    ks_piece *alone = KS_TAKE(arena, n_pieces, ks_piece);
    ks_slot *slot = KS_TAKE(arena, 1, ks_slot);
    for (int i = 0; i < n_pieces; i++) {
        alone[i] = pieces[i];
        alone[i].locked_out = alone[i].keep.kept = false;
        alone[i].wish = (ks_level_wish){.word = KS_ANY_LEVEL};
        alone[i].must_go = true;
        alone[i].on_id = NULL;
        alone[i].set = "";
        alone[i].count = 1;
    }
    *slot = (ks_slot){.firing = ks_fit_firing(order, &pieces[0], arena), .day = KS_NO_DAY};
    out->order.pieces = alone;
    out->order.n_pieces = n_pieces;
    out->order.kilns = &out->kiln;
    out->order.n_kilns = 1;
    out->order.slots = slot;
    out->order.n_slots = 1;
    out->order.rules.cones.wanted = false;
    out->order.rules.low_tags = 0;
    ks_place_options options = ks_place_default();
    options.reserve_mm = 0;
    ks_status status = ks_job_init_with(&out->job, &out->order, &options,
                                        ks_fit_furniture(known, kiln), arena, err);
    if (!status)
        out->kind = out->job.kinds[0];
    return status;
}

/* Whether hands reach down to it there, or levels below lift it anyway, and there is room over it.
 */
static bool is_reached(const ks_fit_case *asked, ks_um z)
{
    ks_stack_level level = {.z = z, .gap = ks_um_of(asked->kiln.height_mm) - z, .posts = -1};
    return asked->n_below > 0 ||
           (ks_arm_spare_kg(&asked->order.rules, &asked->order.pieces[0], &asked->kiln,
                            ks_mm_of(z)) >= 0 &&
            ks_level_clear_mm(&asked->kind, &level) >= asked->job.height_mm[0]);
}

/* The lowest posts that the floor may have and that bring its shelves' top where they can lie, and
 * hands reach if they reach anywhere; -1 = they lie on the floor. *none when there is no such
 * height. */
static int floor_gap(const ks_fit_case *asked, const ks_column *column, int way, int bay,
                     bool *none)
{
    const ks_furniture *f = asked->kind.furniture;
    int number = column->ways[way].supports[bay], lowest = -1;
    *none = true;
    for (int g = -1; g < f->n_gaps; g++) {
        ks_um base = g < 0 ? 0 : f->gaps[g].height, top = base + column->ways[way].thickness;
        if (!ks_floor_gap(f, g) || !ks_way_rests(f, column, way, g, base) ||
            !ks_support_lies(f, column->bays[bay], number, top, top))
            continue;
        lowest = *none ? g : lowest;
        *none = false;
        if (is_reached(asked, top))
            return g;
    }
    return lowest;
}

static const char shelf_edge[] = KS_WORDS("shelf edge");
static const char hand_room[] = KS_WORDS("room for a hand beside it");

/* By the space's outlines: which of the kiln's things made it. */
static const char *region_name(const ks_fit_case *asked, const ks_shelf_space *space, int bay,
                               int region)
{
    if (region >= space->n_regions)
        return hand_room;
    const ks_point *at = space->regions[region].outline.at;
    for (int i = 0; i < asked->kiln.n_parts; i++)
        if (asked->kiln.parts[i].outline.at == at)
            return "wall";
    return asked->kiln.bays[bay].outline.at == at ? "edge of its bay" : shelf_edge;
}

static const char *obstacle_name(const ks_fit_case *asked, const ks_shelf_space *space,
                                 int obstacle)
{
    for (int i = 0; i < asked->kiln.n_keep_outs; i++)
        if (asked->kiln.keep_outs[i].outline.at == space->obstacles[obstacle].outline.at)
            return asked->kiln.keep_outs[i].kind;
    return "post";
}

static double above_on(const ks_fit_case *asked, const ks_stack_level *level)
{
    return ks_level_clear_mm(&asked->kind, level) - asked->job.height_mm[0];
}

/* The roomiest stand on a level, unless it is below the floor: then possible = false. */
static ks_fit_way judge_way(const ks_fit_case *asked, const ks_stack_level *level, double floor_mm,
                            double within_mm, ks_arena *arena)
{
    ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, level, arena);
    bool for_hand;
    ks_roomiest spot =
        ks_fit_roomiest(&space, &asked->job.items[0], floor_mm, within_mm, &for_hand);
    const char *tightest = spot.obstacle >= 0 ? obstacle_name(asked, &space, spot.obstacle)
                           : spot.region >= 0 ? region_name(asked, &space, level->bay, spot.region)
                                              : "nothing";
    return (ks_fit_way){
        .possible = spot.region >= 0 || spot.obstacle >= 0,
        .bay = level->bay,
        .support = level->support,
        .standing = level->standing,
        .column = level->column,
        .z_mm = ks_mm_of(level->z),
        .post_mm = level->posts >= 0 ? ks_mm_of(level->gap) : 0,
        .clear_mm = ks_level_clear_mm(&asked->kind, level),
        .stand = spot.stand,
        .around_mm = spot.slack_mm,
        .above_mm = above_on(asked, level),
        .tightest = tightest,
        .tight_at_base = tightest == shelf_edge,
        .tight_for_hand = for_hand,
    };
}

/* Whether its shelves bear the piece wherever it stands on them. */
static bool holds_on(const ks_fit_case *asked, const ks_stack_level *level)
{
    const ks_support *support = &asked->kiln.bays[level->bay].supports[level->support];
    for (int s = 0; s < support->n_shelves; s++)
        if (asked->order.pieces[0].mass_kg > ks_level_shelf_kg(&asked->job, &asked->kind, level, s))
            return false;
    return true;
}

/* Least spare first; where height leaves both the same, the room around. */
static bool better(const ks_fit_way *a, const ks_fit_way *b)
{
    if (!a->possible || !b->possible)
        return a->possible;
    double spare_a = fmin(a->around_mm, a->above_mm), spare_b = fmin(b->around_mm, b->above_mm);
    return spare_a > spare_b || (spare_a == spare_b && a->around_mm > b->around_mm);
}

/* Below which room around a way cannot be better than the best. */
static double floor_under(const ks_fit_way *best, double above_mm)
{
    if (!best->possible)
        return -INFINITY;
    double spare = fmin(best->around_mm, best->above_mm);
    return above_mm < spare ? INFINITY : above_mm == spare ? best->around_mm : spare;
}

/* The same shelves, bearing as much or all of the piece. */
static bool came_before(const ks_fit_case *asked, const ks_fit_levels *levels,
                        const ks_stack_level *level)
{
    double bears =
        fmin(asked->order.pieces[0].mass_kg, ks_level_limit_kg(&asked->job, &asked->kind, level));
    for (int l = 0; l < levels->n; l++) {
        const ks_stack_level *other = &levels->levels[l];
        if (other->bay == level->bay && other->support == level->support &&
            ks_level_limit_kg(&asked->job, &asked->kind, other) >= bears)
            return true;
    }
    return false;
}

/* Posts of bays beside it stand in its way, so that only where it is alone their places do not
 * matter. */
static void note_level(const ks_fit_case *asked, ks_fit_levels *to, ks_stack_level level,
                       ks_um thickness)
{
    const ks_post_layout *standing = &asked->kind.furniture->post_layouts[level.standing];
    bool alone = asked->kiln.arrangements[standing->arrangement].n_bays == 1;
    to->again[to->n] = alone && came_before(asked, to, &level);
    to->thickness_mm[to->n] = ks_mm_of(thickness);
    to->levels[to->n++] = level;
}

static int ways_of_all(const ks_furniture *f)
{
    int n = 0;
    for (int s = 0; s < f->n_post_layouts; s++)
        for (int c = 0; c < f->post_layouts[s].n_columns; c++)
            n += f->post_layouts[s].columns[c].n_ways * f->post_layouts[s].columns[c].n_bays;
    return n;
}

static void note_column(const ks_fit_case *asked, int standing, int column, ks_fit_levels *out,
                        ks_arena *arena)
{
    const ks_furniture *f = asked->kind.furniture;
    const ks_column *col = &f->post_layouts[standing].columns[column];
    for (int i = 0; i < col->n_ways * col->n_bays; i++) {
        int way = i / col->n_bays, bay = i % col->n_bays;
        bool none;
        ks_stack_level level = {.bay = col->bays[bay], .standing = standing, .column = column};
        level.support = col->ways[way].supports[bay];
        level.under = floor_gap(asked, col, way, bay, &none);
        if (none)
            continue;
        level.z = (level.under >= 0 ? f->gaps[level.under].height : 0) + col->ways[way].thickness;
        if (!ks_fit_raise(asked, way, bay, &level, arena))
            continue;
        level.gap = ks_um_of(asked->kiln.height_mm) - level.z;
        level.posts = -1;
        if (ks_mm_of(level.gap) < fmax(asked->kiln.first_gap_mm, asked->kiln.top_gap_mm))
            continue;
        note_level(asked, out, level, col->ways[way].thickness);
    }
}

ks_fit_levels ks_fit_bottom_levels(const ks_fit_case *asked, ks_arena *arena)
{
    const ks_furniture *f = asked->kind.furniture;
    int most = ways_of_all(f);
    ks_fit_levels out = {.levels = KS_TAKE(arena, most, ks_stack_level),
                         .thickness_mm = KS_TAKE(arena, most, double),
                         .again = KS_TAKE(arena, most, bool)};
    for (int s = 0; s < f->n_post_layouts; s++)
        for (int c = 0; c < f->post_layouts[s].n_columns; c++)
            note_column(asked, s, c, &out, arena);
    return out;
}

static void best_of_all(const ks_fit_case *asked, const ks_fit_levels *levels, bool holding,
                        double within_mm, ks_fit_way *best, ks_arena *arena)
{
    for (int l = 0; l < levels->n; l++) {
        double floor_mm = floor_under(best, above_on(asked, &levels->levels[l]));
        if (levels->again[l] || floor_mm == INFINITY ||
            (holding && !holds_on(asked, &levels->levels[l])))
            continue;
        ks_fit_way way = judge_way(asked, &levels->levels[l], floor_mm, within_mm, arena);
        if (!better(&way, best))
            continue;
        ks_fit_find_shelf(asked, &levels->levels[l], &way, arena);
        *best = way;
    }
}

/* All ways roughly; then again whether any is better by more than the fineness asked. */
static ks_fit_way best_way(const ks_fit_case *asked, const ks_fit_levels *levels, bool holding,
                           double within_mm, ks_arena *arena)
{
    ks_fit_way best = {0};
    best_of_all(asked, levels, holding, COARSE_MM, &best, arena);
    best_of_all(asked, levels, holding, within_mm, &best, arena);
    return best;
}

static bool all_hold(const ks_fit_case *asked, const ks_fit_levels *levels)
{
    for (int l = 0; l < levels->n; l++)
        if (!levels->again[l] && !holds_on(asked, &levels->levels[l]))
            return false;
    return true;
}

ks_fit_way ks_fit_best_way(const ks_fit_case *asked, double within_mm, ks_arena *arena)
{
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    ks_fit_way best = best_way(asked, &levels, true, within_mm, arena);
    if ((best.possible && fmin(best.around_mm, best.above_mm) >= 0) || all_hold(asked, &levels))
        return best;
    return best_way(asked, &levels, false, within_mm, arena);
}

static bool in_stock(const ks_fit_case *asked, const ks_stack_level *level, int gap)
{
    const ks_furniture *f = asked->kind.furniture;
    const ks_column *column = &f->post_layouts[level->standing].columns[level->column];
    const ks_support *support = &asked->kiln.bays[level->bay].supports[level->support];
    for (int i = 0; i < f->gaps[gap].n; i++)
        if (asked->kiln.posts[f->gaps[gap].kind[i]].count < column->n_posts)
            return false;
    for (int s = 0; s < support->n_shelves; s++)
        if (asked->kiln.shelves[support->shelves[s].kind].count < 2 * support->n_shelves)
            return false;
    return true;
}

/* The shortest posts over the level that leave the piece `height_mm` and another level room. */
static int gap_over(const ks_fit_case *asked, const ks_stack_level *level, double height_mm,
                    double thickness_mm)
{
    const ks_furniture *f = asked->kind.furniture;
    for (int g = 0; g < f->n_gaps; g++) {
        ks_um top = level->z + f->gaps[g].height + ks_um_of(thickness_mm);
        ks_um left = ks_um_of(asked->kiln.height_mm) - top, gap = f->gaps[g].height;
        if (ks_gap_clear_mm(&asked->kind, gap, false) >= height_mm &&
            gap >= ks_um_of(asked->kiln.first_gap_mm) &&
            ks_gap_clear_mm(&asked->kind, left, true) >= level_least_mm &&
            left >= ks_um_of(asked->kiln.top_gap_mm) && in_stock(asked, level, g) &&
            ks_support_lies(f, level->bay, level->support, top, top))
            return g;
    }
    return -1;
}

/* Under the shelf as it was measured, or, if that can be had, with all errors against it. */
static void try_covered(const ks_fit_case *asked, const ks_stack_level *level, double thickness_mm,
                        const ks_fit_visit *visit, double within_mm, ks_fit_way *best,
                        ks_arena *arena)
{
    double height = asked->job.height_mm[0];
    int over = gap_over(asked, level, height + visit->error_above_mm, thickness_mm);
    if (over < 0)
        over = gap_over(asked, level, height, thickness_mm);
    if (over < 0)
        return;
    ks_stack_level covered = *level;
    covered.posts = over;
    covered.gap = asked->kind.furniture->gaps[over].height;
    double least = best->possible && best->above_mm >= visit->error_above_mm ? best->around_mm : 0;
    if (best->possible && above_on(asked, &covered) < visit->error_above_mm)
        return;
    ks_fit_way way = judge_way(asked, &covered, least, within_mm, arena);
    if (!way.possible)
        return;
    ks_fit_find_shelf(asked, &covered, &way, arena);
    *best = way;
}

ks_fit_way ks_fit_covered_way(const ks_fit_case *asked, const ks_fit_visit *visit, double within_mm,
                              ks_arena *arena)
{
    ks_fit_way best = {0};
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    for (int l = 0; l < levels.n; l++)
        try_covered(asked, &levels.levels[l], levels.thickness_mm[l], visit, within_mm, &best,
                    arena);
    return best;
}

bool ks_fit_somehow(const ks_fit_case *asked, ks_arena *arena)
{
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    for (int l = 0; l < levels.n; l++) {
        if (levels.again[l] || above_on(asked, &levels.levels[l]) < 0 ||
            !holds_on(asked, &levels.levels[l]))
            continue;
        bool for_hand;
        ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, &levels.levels[l], arena);
        if (ks_roomiest_reaches(&space, &asked->job.items[0], 0, 0.2) &&
            (!(space.entry.large_mm > 0) ||
             ks_fit_roomiest(&space, &asked->job.items[0], -0.2, 0.2, &for_hand).slack_mm >= 0))
            return true;
    }
    return false;
}
