#include "check/check_judge.h"

#include "studio/level_name.h"

static double outward_of(const ks_piece *piece)
{
    return piece && piece->outward_mm > 0 ? piece->outward_mm : 0;
}

static ks_box both(ks_box a, ks_box b)
{
    return (ks_box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
}

static void measure(ks_judge *j, ks_thing *thing)
{
    thing->boxes = KS_TAKE(j->arena, thing->placed->n_parts, ks_box);
    thing->ways = KS_TAKE(j->arena, thing->placed->n_parts, ks_way_in);
    thing->low = INFINITY;
    thing->high = -INFINITY;
    thing->box = (ks_box){INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int p = 0; p < thing->placed->n_parts; p++) {
        ks_outline widest = ks_thing_widest(thing, p);
        thing->boxes[p] = ks_outline_box(&widest);
        thing->box = both(thing->box, thing->boxes[p]);
        thing->low = fmin(thing->low, ks_low_of(thing, p));
        thing->high = fmax(thing->high, ks_high_of(thing, p));
        thing->has_setter = thing->has_setter || ks_is_setter(thing->placed->parts[p].kind);
    }
}

static ks_thing thing_of(ks_judge *j, int level, int item)
{
    const ks_placed *placed = &j->load->levels[level].pieces[item];
    bool known = placed->piece >= 0 && placed->piece < j->order->n_pieces;
    ks_thing thing = {.placed = placed,
                      .piece = known ? &j->order->pieces[placed->piece] : NULL,
                      .level = level,
                      .item = item,
                      .z = j->load->levels[level].z_mm};
    thing.outward_mm = outward_of(thing.piece);
    thing.runny = thing.piece && thing.piece->runny;
    measure(j, &thing);
    return thing;
}

/* What carries it, -1 = nothing; the first of that name and number on its level. */
static int carrier_of(const ks_judge *j, int i)
{
    const ks_placed *placed = j->things[i].placed;
    for (int k = 0; placed->on_id && k < j->n_things; k++)
        if (k != i && j->things[k].level == j->things[i].level &&
            j->things[k].placed->copy == placed->on_copy &&
            ks_same_text(j->things[k].placed->id, placed->on_id))
            return k;
    return -1;
}

/* Pieces that stand on one another in a ring have no root: -1. */
static int root_of(const ks_judge *j, int i)
{
    int at = i;
    for (int steps = 0; steps <= j->n_things; steps++) {
        if (j->things[at].carrier < 0)
            return at;
        at = j->things[at].carrier;
    }
    return -1;
}

static void take_apart(ks_judge *j)
{
    j->n_things = 0;
    for (int l = 0; l < j->load->n_levels; l++)
        j->n_things += j->load->levels[l].n_pieces;
    j->things = KS_TAKE(j->arena, j->n_things, ks_thing);
    j->supports = KS_TAKE(j->arena, j->load->n_levels, ks_outline);
    for (int l = 0, n = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        ks_outline *shelves = KS_TAKE(j->arena, level->n_shelves, ks_outline);
        for (int s = 0; s < level->n_shelves; s++)
            shelves[s] = level->shelves[s].outline;
        j->supports[l] = ks_outline_hull(shelves, level->n_shelves, j->arena);
        for (int k = 0; k < level->n_pieces; k++)
            j->things[n++] = thing_of(j, l, k);
    }
    for (int i = 0; i < j->n_things; i++)
        j->things[i].carrier = carrier_of(j, i);
    for (int i = 0; i < j->n_things; i++)
        j->things[i].root = root_of(j, i);
}

static void judge_load(ks_judge *j, int number)
{
    j->number = number;
    j->load = &j->plan->loads[number];
    bool known = j->load->kiln >= 0 && j->load->kiln < j->order->n_kilns;
    j->kiln = known ? &j->order->kilns[j->load->kiln] : NULL;
    j->names[number] = ks_level_names(j->load, j->arena);
    if (!ks_check_sound(j))
        return;
    take_apart(j);
    ks_check_agrees(j);
    ks_check_shapes(j);
    ks_check_company(j);
    ks_check_cones(j);
    ks_check_distances(j);
    ks_check_levels(j);
    ks_check_runny(j);
    ks_check_room(j);
    ks_check_support(j);
    ks_check_stack(j);
    ks_check_shelves(j);
    ks_check_posts(j);
    ks_check_stock(j);
    ks_check_mass(j);
    ks_check_steps(j);
}

static ks_judge *judge_of(const ks_plan *plan, ks_arena *arena)
{
    ks_judge *judge = KS_TAKE(arena, 1, ks_judge);
    judge->plan = plan;
    judge->order = plan->order;
    judge->arena = arena;
    judge->names = KS_TAKE(arena, plan->n_loads, const char **);
    for (int r = 0; r < N_RULES; r++)
        judge->tallies[r].tightest = INFINITY;
    return judge;
}

int ks_check_nearby(const ks_plan *plan, int load, int n, const ks_placed *const *pieces,
                    ks_arena *arena, ks_nearby **out)
{
    ks_judge *judge = judge_of(plan, arena);
    judge->n_about = n;
    judge->about = pieces;
    judge_load(judge, load);
    *out = judge->nearby;
    return judge->n_nearby;
}

void ks_check(const ks_plan *plan, ks_arena *arena, ks_check_report *out)
{
    ks_judge *judge = judge_of(plan, arena);
    for (int l = 0; l < plan->n_loads; l++)
        judge_load(judge, l);
    ks_check_counts(judge);
    ks_check_wishes(judge);
    ks_check_due(judge);
    ks_check_rump(judge);
    ks_check_slots(judge);
    ks_report_make(judge, out);
    ks_check_ruler(judge, &out->ruler);
}
