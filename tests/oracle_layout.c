#include "oracle_layout.h"

#include "oracle.h"

#include <math.h>
#include <string.h>

static ks_placed random_piece(uint64_t *seed, ks_piece *piece, int number, ks_arena *arena)
{
    int n = 1 + (random_share(seed) < 0.5);
    *piece = (ks_piece){.id = ks_arena_print(arena, "p%d", number),
                        .owner = "",
                        .count = 1,
                        .clay = -1,
                        .set = "",
                        .atmosphere = "",
                        .schedule = "",
                        .due_day = KS_NO_DAY,
                        .glazed = random_share(seed) < 0.7,
                        .runny = random_share(seed) < 0.1,
                        .outward_mm = random_share(seed) < 0.5 ? 0 : random_between(seed, 0, 1),
                        .around_mm = random_share(seed) < 0.8 ? 0 : random_between(seed, 0, 20),
                        .n_parts = n,
                        .parts = KS_TAKE(arena, n, ks_part)};
    double foot = floor(random_between(seed, 5, 60)), x = random_between(seed, -220, 220),
           y = random_between(seed, -220, 220);
    for (int p = 0; p < n; p++) {
        ks_outline shape = random_outline(seed, ANY_KIND, p ? 150 : 90, 10, arena);
        shape = ks_outline_place(&shape, (ks_stand){x, y, 0}, arena);
        double top = foot + floor(random_between(seed, 5, 60));
        piece->parts[p] = (ks_part){p ? KS_PART_BODY : KS_PART_FOOT,
                                    p ? foot : 0,
                                    p ? top : foot,
                                    ks_outline_gridded(&shape, arena),
                                    {0}};
    }
    return (ks_placed){.piece = number,
                       .id = piece->id,
                       .owner = "",
                       .copy = 1,
                       .glazed = piece->glazed,
                       .around_mm = piece->around_mm,
                       .top_mm = piece->parts[n - 1].to_mm,
                       .n_parts = n,
                       .parts = piece->parts};
}

ks_plan *random_layout(uint64_t *seed, ks_arena *arena)
{
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    ks_order *order = KS_TAKE(arena, 1, ks_order);
    ks_load *load = KS_TAKE(arena, 1, ks_load);
    ks_level *level = KS_TAKE(arena, 1, ks_level);
    int n = 2 + (int)(5 * random_share(seed));
    order->n_pieces = n;
    order->pieces = KS_TAKE(arena, n, ks_piece);
    *plan = (ks_plan){.order = order, .n_loads = 1, .loads = load};
    *load = (ks_load){.kiln_id = "", .kiln = -1, .height_mm = 500, .n_levels = 1, .levels = level};
    load->clearance = (ks_clearance){.ware = floor(random_between(seed, 0, 12)),
                                     .under = floor(random_between(seed, 0, 20)),
                                     .wall = floor(random_between(seed, 0, 30)),
                                     .shelf_edge = floor(random_between(seed, 0, 5))};
    load->n_parts = 1;
    load->parts = KS_TAKE(arena, 1, ks_chamber_part);
    ks_outline chamber =
        random_outline(seed, random_share(seed) < 0.3 ? STAR : CONVEX, 900, 0, arena);
    load->parts[0] = (ks_chamber_part){0, 500, chamber};
    level->bay = "";
    level->z_mm = 20;
    level->n_shelves = 1;
    level->shelves = KS_TAKE(arena, 1, ks_shelf);
    level->shelves[0] = (ks_shelf){"", -1, random_outline(seed, CONVEX, 800, 0, arena), 15};
    level->n_pieces = n;
    level->pieces = KS_TAKE(arena, n, ks_placed);
    for (int i = 0; i < n; i++)
        level->pieces[i] = random_piece(seed, &order->pieces[i], i, arena);
    return plan;
}

typedef struct {
    const ks_piece *piece;
    const ks_part *part;
    double round; /* with outward travel */
    GEOSGeometry *core;
} block;

static double least(double a, double b)
{
    return a < b ? a : b;
}

static void judge_pair(const ks_clearance *clear, const block *a, const block *b, layout_verdict *v)
{
    double need = a->piece->glazed || b->piece->glazed ? clear->ware : 0;
    need = fmax(need, fmax(a->piece->around_mm, b->piece->around_mm));
    double cores = oracle_distance(a->core, b->core); /* 0: they overlap, nobody says how far */
    double apart = (cores > 0 ? cores : -1) - a->round - b->round - need;
    double gap = fmax(a->part->from_mm - b->part->to_mm, b->part->from_mm - a->part->to_mm);
    bool never_over = a->piece->runny || b->piece->runny;
    if (gap < 0)
        v->ware = least(v->ware, apart);
    else if (apart >= 0)
        v->ware = gap < clear->under || never_over ? least(v->ware, apart) : v->ware;
    else
        v->under = least(v->under, never_over ? apart : fmax(apart, gap - clear->under));
}

/* Distance inside, or a negative number. */
static double inside(const block *b, const ks_outline *room)
{
    GEOSGeometry *whole = oracle_core(room);
    double in = GEOSCovers(whole, b->core) == 1 ? oracle_to_boundary(b->core, whole) : -1e3;
    GEOSGeom_destroy(whole);
    return in - b->round;
}

layout_verdict oracle_verdict(const ks_plan *plan)
{
    layout_verdict v = {INFINITY, INFINITY, INFINITY, INFINITY};
    const ks_load *load = &plan->loads[0];
    const ks_level *level = &load->levels[0];
    block blocks[16];
    int n = 0;
    for (int i = 0; i < level->n_pieces; i++)
        for (int p = 0; p < level->pieces[i].n_parts; p++) {
            const ks_piece *piece = &plan->order->pieces[i];
            const ks_part *part = &level->pieces[i].parts[p];
            blocks[n] = (block){piece, part, part->outline.round + piece->outward_mm,
                                oracle_core(&part->outline)};
            v.wall =
                least(v.wall, inside(&blocks[n], &load->parts[0].outline) - load->clearance.wall);
            if (part->from_mm == 0)
                v.support = least(v.support, inside(&blocks[n], &level->shelves[0].outline) -
                                                 load->clearance.shelf_edge);
            for (int k = 0; k < n; k++)
                if (blocks[k].piece != piece)
                    judge_pair(&load->clearance, &blocks[n], &blocks[k], &v);
            n++;
        }
    for (int i = 0; i < n; i++)
        GEOSGeom_destroy(blocks[i].core);
    return v;
}

static double tightest(const ks_check_report *report, const char *rule)
{
    for (int i = 0; i < report->n_rules; i++)
        if (strcmp(report->rules[i].rule, rule) == 0)
            return report->rules[i].tightest_mm;
    return NAN;
}

layout_verdict checker_verdict(const ks_plan *plan, ks_arena *arena)
{
    ks_check_report report;
    ks_check(plan, arena, &report);
    return (layout_verdict){tightest(&report, "ware"), tightest(&report, "under"),
                            tightest(&report, "wall"), tightest(&report, "support")};
}

static bool agree(double a, double b, double within)
{
    if (isinf(a) || isinf(b))
        return a == b;
    return fabs(a - b) <= within || (a < 0 && b < 0);
}

bool verdicts_agree(layout_verdict a, layout_verdict b, double within)
{
    return agree(a.ware, b.ware, within) && agree(a.under, b.under, within) &&
           agree(a.wall, b.wall, within) && agree(a.support, b.support, within);
}
