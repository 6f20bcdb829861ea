#include "check/check_judge.h"

/* What carries a piece, and whether it stays standing. */

static const double grog_mm = 20; /* loose grog stays this far within its shelf */

static ks_outline *shelves_of(const ks_judge *j, const ks_level *level, double grown)
{
    ks_outline *shelves = KS_TAKE(j->arena, level->n_shelves, ks_outline);
    for (int s = 0; s < level->n_shelves; s++) {
        shelves[s] = level->shelves[s].outline;
        shelves[s].round += grown;
    }
    return shelves;
}

static bool ware_below(const ks_judge *j, const ks_thing *thing, const ks_outline *grog)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *other = &j->things[i];
        for (int p = 0; other->high <= thing->z && p < other->placed->n_parts; p++)
            if (ks_outline_nearer(&other->placed->parts[p].outline, grog, 0))
                return true;
    }
    return false;
}

/* Over ware, no grog near the edge of any one shelf: it would trickle through the seam. */
static void judge_grog(ks_judge *j, const ks_thing *thing, int part, const ks_outline *shelves)
{
    int n = j->load->levels[thing->level].n_shelves;
    const ks_outline *grog = &thing->placed->parts[part].outline;
    double slack = -INFINITY;
    if (n > 1 && !ware_below(j, thing, grog))
        slack = ks_support_slack(grog, n, shelves);
    for (int s = 0; s < n; s++)
        slack = fmax(slack, ks_outline_inside(grog, &shelves[s]));
    ks_note(j, RULE_GROG, slack - grog_mm, ks_spot_thing(j, thing));
}

static void on_shelves(ks_judge *j, const ks_thing *thing, const ks_outline *shelves,
                       const ks_outline *wider)
{
    int n = j->load->levels[thing->level].n_shelves;
    double lowest = INFINITY;
    for (int p = 0; p < thing->placed->n_parts; p++) {
        const ks_part *part = &thing->placed->parts[p];
        ks_outline widest = ks_thing_widest(thing, p);
        double over = ks_support_slack(&widest, n, wider);
        ks_note(j, RULE_OVERHANG, over, ks_spot_thing(j, thing));
        lowest = fmin(lowest, part->from_mm);
        if (part->from_mm > KS_GRID)
            continue;
        double edge = ks_support_slack(&widest, n, shelves) - j->load->clearance.shelf_edge;
        ks_note(j, RULE_SUPPORT, edge, ks_spot_thing(j, thing));
        if (part->kind == KS_PART_GROG)
            judge_grog(j, thing, p, shelves);
    }
    if (fabs(lowest) > KS_GRID)
        ks_note(j, RULE_SUPPORT, -fabs(lowest), ks_spot_thing(j, thing));
}

/* Within the hull of what the carrier has at the height where the foot begins. */
static double carried_slack(ks_judge *j, const ks_thing *carrier, const ks_part *foot)
{
    const ks_placed *under = carrier->placed;
    ks_outline *tops = KS_TAKE(j->arena, under->n_parts, ks_outline);
    int n = 0;
    double nearest = INFINITY;
    for (int p = 0; p < under->n_parts; p++) {
        double off = fabs(under->parts[p].to_mm - foot->from_mm);
        nearest = fmin(nearest, off);
        if (off <= 1.5 * KS_GRID)
            tops[n++] = under->parts[p].outline;
    }
    if (n == 0)
        return -nearest;
    ks_outline hull = ks_outline_hull(tops, n, j->arena);
    return ks_outline_inside(&foot->outline, &hull);
}

static void on_piece(ks_judge *j, const ks_thing *thing)
{
    if (thing->carrier < 0 || thing->root == -1) {
        ks_note(j, RULE_ON, -INFINITY, ks_spot_thing(j, thing));
        return;
    }
    const ks_thing *carrier = &j->things[thing->carrier];
    if (thing->placed->glazed || carrier->placed->glazed)
        ks_note(j, RULE_ON, -fmax(1, j->load->clearance.ware), ks_spot_pair(j, thing, carrier));
    if (thing->placed->way != KS_NO_WAY)
        return; /* where it rests is judged by the way it stands */
    double lowest = INFINITY;
    for (int p = 0; p < thing->placed->n_parts; p++)
        lowest = fmin(lowest, thing->placed->parts[p].from_mm);
    for (int p = 0; p < thing->placed->n_parts; p++)
        if (thing->placed->parts[p].from_mm <= lowest + KS_GRID)
            ks_note(j, RULE_ON, carried_slack(j, carrier, &thing->placed->parts[p]),
                    ks_spot_pair(j, thing, carrier));
}

static void stays_up(ks_judge *j, const ks_thing *thing)
{
    bool leans = thing->placed->way == KS_EDGE;
    if (!thing->piece || thing->placed->on_id || leans || thing->piece->n_parts == 0)
        return;
    ks_note(j, RULE_STANDS, ks_piece_stands_by(thing->piece, 0), ks_spot_thing(j, thing));
    ks_note(j, RULE_TILT, ks_piece_stands_by(thing->piece, 5), ks_spot_thing(j, thing));
}

void ks_check_support(ks_judge *j)
{
    for (int l = 0, i = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        ks_outline *shelves = shelves_of(j, level, 0);
        ks_outline *wider = shelves_of(j, level, j->load->clearance.overhang);
        for (int k = 0; k < level->n_pieces; k++, i++) {
            const ks_thing *thing = &j->things[i];
            if (thing->placed->on_id)
                on_piece(j, thing);
            if (!thing->placed->on_id || thing->placed->way == KS_EDGE)
                on_shelves(j, thing, shelves, wider);
            stays_up(j, thing);
        }
    }
}
