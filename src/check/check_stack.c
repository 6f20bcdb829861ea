#include "check/check_judge.h"

#include "studio/parts.h"
#include "studio/stacked.h"

/* Ware on ware: that it rests where the plan says, in a way that both allow, within the limits of
 * the order's rules, and stands as a whole. See docs/checking.md. */

/* Common practice, no source: by so much feet in a pile may be out of line, or differ. */
static const double feet_mm = 10;
static const double touch_mm = 2 * KS_GRID; /* what touches, written on the plan's grid */

static const ks_thing *carrier_of(const ks_judge *j, const ks_thing *thing)
{
    return thing->carrier < 0 ? NULL : &j->things[thing->carrier];
}

/* What carries it; NULL where it stands on the shelf, be it leaning on another. */
static const ks_thing *under_of(const ks_judge *j, const ks_thing *thing)
{
    return thing->placed->way == KS_EDGE ? NULL : carrier_of(j, thing);
}

static bool is_raw(const ks_piece *piece)
{
    return piece->stage == KS_LEATHER || piece->stage == KS_DRY;
}

/* Where two that stand on one another meet. */
typedef struct {
    double rise_mm;          /* how far the upper would have to rise: negative, it hangs */
    double z_mm;             /* above the shelf, the highest */
    bool on_a_side;          /* on a handle or a spout alone */
    ks_outline upper, lower; /* hulls of the parts that meet; n = 0: none do */
} contact;

static ks_outline feet_of(const ks_placed *placed, ks_arena *arena)
{
    return ks_parts_feet(placed->parts, placed->n_parts, false, arena);
}

/* Handles and spouts: they have nothing over the middle of the feet. */
static bool is_side(const ks_placed *of, const ks_part *part, ks_arena *arena)
{
    ks_outline feet = feet_of(of, arena);
    return ks_outline_from_point(&part->outline, ks_outline_centroid(&feet)) > 0;
}

/* Parts meet where one begins as the other ends; where the upper one hangs, once it is down. Those
 * that it only grazes on its way down would have it rise, and carry nothing. */
static void find_hulls(const ks_placed *over, const ks_placed *under, contact *c, ks_arena *arena)
{
    double met = fmin(c->rise_mm, 0);
    ks_outline *ups = KS_TAKE(arena, over->n_parts * under->n_parts, ks_outline);
    ks_outline *downs = KS_TAKE(arena, over->n_parts * under->n_parts, ks_outline);
    int n = 0, sides = 0;
    for (int i = 0; i < under->n_parts; i++)
        for (int k = 0; k < over->n_parts; k++) {
            double rise = under->parts[i].to_mm - over->parts[k].from_mm;
            if (fabs(rise - met) > touch_mm ||
                ks_parts_apart_mm(&under->parts[i], &over->parts[k]) >= touch_mm)
                continue;
            c->z_mm = fmax(c->z_mm, under->parts[i].to_mm);
            sides += is_side(under, &under->parts[i], arena);
            ups[n] = over->parts[k].outline;
            downs[n++] = under->parts[i].outline;
        }
    if (n == 0)
        return;
    c->on_a_side = sides == n;
    c->upper = ks_outline_hull(ups, n, arena);
    c->lower = ks_outline_hull(downs, n, arena);
}

static contact contact_of(const ks_thing *over, const ks_thing *under, ks_arena *arena)
{
    const ks_placed *a = over->placed, *b = under->placed;
    contact c = {.rise_mm = ks_parts_rise_mm(b->parts, b->n_parts, a->parts, a->n_parts, touch_mm)};
    if (isfinite(c.rise_mm))
        find_hulls(a, b, &c, arena);
    return c;
}

static bool is_flat(const ks_thing *thing)
{
    return thing->piece && ks_piece_is_flat(thing->piece);
}

static bool is_tile(const ks_thing *thing)
{
    return thing->piece && ks_piece_is_tile(thing->piece);
}

/* Feet that lie over one another; tiles are borne by all of their face. */
static double aligned_mm(const ks_thing *over, const ks_thing *under, ks_arena *arena)
{
    ks_outline a = feet_of(over->placed, arena), b = feet_of(under->placed, arena);
    if (is_tile(over) && is_tile(under))
        return ks_outline_inside(&a, &b) + feet_mm;
    ks_outline wider_a = a, wider_b = b;
    wider_a.round += feet_mm;
    wider_b.round += feet_mm;
    return fmin(ks_outline_inside(&a, &wider_b), ks_outline_inside(&b, &wider_a));
}

/* What each way asks, mm to spare; -INFINITY where it is another way altogether. */
static double way_slack(const ks_thing *over, const ks_thing *under, const contact *c,
                        ks_arena *arena)
{
    double top = under->high - under->z, low = over->low - over->z, high = over->high - over->z;
    bool same_pose = over->placed->pose == under->placed->pose;
    switch (over->placed->way) {
    case KS_RIM:
        return fmin(c->z_mm - top, 0);
    case KS_NEST:
        if (!same_pose)
            return -INFINITY;
        return c->z_mm < top - touch_mm ? 0 : fmin(0, (top - low) - (high - low) / 2);
    case KS_PILE:
        return same_pose && is_flat(over) && is_flat(under) ? aligned_mm(over, under, arena)
                                                            : -INFINITY;
    default:
        return 0;
    }
}

static bool allows(const ks_thing *thing, ks_way way)
{
    return thing->piece && (thing->piece->ways & KS_WAY_BIT(way)) != 0;
}

static bool is_lid_on(const ks_thing *lid, const ks_thing *pot)
{
    return lid->piece && pot->piece && lid->piece->lid_of &&
           ks_same_text(lid->piece->lid_of, pot->piece->id);
}

static void judge_way(ks_judge *j, const ks_thing *over, const ks_thing *under, const contact *c)
{
    ks_way way = over->placed->way;
    bool allowed = way == KS_NO_WAY ? true
                   : way == KS_LID  ? is_lid_on(over, under)
                                    : allows(over, way) && allows(under, way);
    ks_note(j, RULE_WAYS, allowed ? way_slack(over, under, c, j->arena) : -INFINITY,
            ks_spot_pair(j, over, under));
}

static void judge_rest(ks_judge *j, const ks_thing *over, const ks_thing *under)
{
    ks_spot where = ks_spot_pair(j, over, under);
    contact c = contact_of(over, under, j->arena);
    if (over->placed->way != KS_NO_WAY)
        ks_note(j, RULE_ON, fmin(c.rise_mm, 0), where);
    judge_way(j, over, under, &c);
    ks_note(j, RULE_CARRIES, c.on_a_side ? -INFINITY : 0, where);
}

/* Thin rims, raw joints, thick raw walls and what lies on its slab carry nothing. */
static void judge_carrier(ks_judge *j, const ks_thing *over, const ks_thing *under)
{
    const ks_stacking *limit = &j->order->rules.stacking;
    const ks_piece *piece = under->piece;
    ks_spot where = ks_spot_pair(j, over, under);
    if (!piece)
        return;
    bool joints = piece->n_joints > 0 && is_raw(piece);
    ks_note(j, RULE_CARRIES, joints || under->has_setter || over->has_setter ? -INFINITY : 0,
            where);
    if (over->placed->way == KS_RIM)
        ks_note(j, RULE_CARRIES, piece->wall_mm - limit->thin_rim_mm, where);
    if (is_raw(piece))
        ks_note(j, RULE_CARRIES, limit->thick_mm - piece->wall_mm, where);
}

/* A row leans: each stands on the shelf, its face on the one before, and is no taller. */
static void judge_row(ks_judge *j, const ks_thing *thing)
{
    const ks_thing *before = carrier_of(j, thing);
    ks_spot where = ks_spot_thing(j, thing);
    bool so = allows(thing, KS_EDGE) && thing->placed->pose == KS_ON_EDGE;
    ks_note(j, RULE_WAYS, so ? 0 : -INFINITY, where);
    if (!before)
        return;
    where = ks_spot_pair(j, thing, before);
    const ks_stand a = thing->placed->stand, b = before->placed->stand;
    ks_rotation turn = ks_rotation_of(a.turn_deg);
    double off = fabs((a.x - b.x) * turn.c + (a.y - b.y) * turn.s),
           turned = a.turn_deg - b.turn_deg;
    bool row = before->placed->way == KS_EDGE && thing->placed->n_parts == 1 &&
               before->placed->n_parts == 1 && turned == 0;
    ks_note(j, RULE_WAYS, row ? 0 : -INFINITY, where);
    if (!row)
        return;
    const ks_outline *own = &thing->placed->parts[0].outline,
                     *other = &before->placed->parts[0].outline;
    ks_note(j, RULE_ON, fmin(0, touch_mm - ks_outline_distance(own, other)), where);
    ks_note(j, RULE_WAYS, before->high - thing->high, where);
    ks_note(j, RULE_WAYS, thing->placed->parts[0].to_mm / 2 - off, where);
}

/* How many stand on one another in this way, down from a thing: `along` others too, or until a
 * piece stands otherwise. */
static int count_down(const ks_judge *j, const ks_thing *thing, ks_way way, bool along,
                      bool *all_tiles)
{
    int n = 1;
    *all_tiles = is_tile(thing);
    for (const ks_thing *at = thing, *under = under_of(j, at); under;
         at = under, under = under_of(j, at)) {
        bool so = at->placed->way == way || (way == KS_RIM && at->placed->way == KS_NO_WAY);
        if (!so && !along)
            break;
        n += so;
        *all_tiles = *all_tiles && is_tile(under);
    }
    return n;
}

static void judge_height(ks_judge *j, const ks_thing *thing)
{
    const ks_stacking *limit = &j->order->rules.stacking;
    ks_spot where = ks_spot_thing(j, thing);
    bool tiles;
    ks_note(j, RULE_HIGH, limit->rims - count_down(j, thing, KS_RIM, true, &tiles), where);
    ks_note(j, RULE_HIGH, limit->nest - count_down(j, thing, KS_NEST, false, &tiles), where);
    int pile = count_down(j, thing, KS_PILE, false, &tiles);
    ks_note(j, RULE_HIGH, (tiles ? limit->tiles : limit->plates) - pile, where);
}

/* Whether one stands on the other, maybe over others; itself too. */
static bool is_over(const ks_judge *j, const ks_thing *thing, const ks_thing *base)
{
    for (const ks_thing *at = thing; at; at = under_of(j, at))
        if (at == base)
            return true;
    return false;
}

/* What stands on a thing, with or without it, and where its middle is. */
typedef struct {
    double kg, x, y, z;
} burden;

static burden burden_on(const ks_judge *j, const ks_thing *base, bool with_it)
{
    burden all = {0, 0, 0, 0};
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (thing->root != base->root || !thing->piece || (thing == base && !with_it) ||
            !is_over(j, thing, base))
            continue;
        ks_mass_centre at = ks_parts_mass_centre(thing->placed->parts, thing->placed->n_parts);
        double kg = thing->piece->mass_kg;
        all.kg += kg;
        all.x += kg * at.x;
        all.y += kg * at.y;
        all.z += kg * at.z;
    }
    return all.kg > 0 ? (burden){all.kg, all.x / all.kg, all.y / all.kg, all.z / all.kg} : all;
}

static void judge_burden(ks_judge *j, const ks_thing *thing)
{
    double kg = burden_on(j, thing, false).kg;
    if (kg > 0 && thing->piece)
        ks_note(j, RULE_BURDEN, j->order->rules.stacking.carried * thing->piece->mass_kg - kg,
                ks_spot_thing(j, thing));
}

/* All that stands over a contact is over it, level and tilted. */
static void judge_balance(ks_judge *j, const burden *over, const ks_outline *foot, double z,
                          ks_spot where)
{
    ks_rotation tilt = ks_rotation_of(5);
    double inside = -ks_outline_from_point(foot, (ks_point){over->x, over->y});
    ks_note(j, RULE_STANDS, inside, where);
    ks_note(j, RULE_TILT, inside - fmax(over->z - z, 0) * tilt.s / tilt.c, where);
}

static void judge_stand(ks_judge *j, const ks_thing *thing, const ks_thing *under)
{
    contact c = contact_of(thing, under, j->arena);
    burden all = burden_on(j, thing, true);
    if (c.upper.n == 0 || !(all.kg > 0))
        return;
    judge_balance(j, &all, &c.upper, c.z_mm, ks_spot_pair(j, thing, under));
    judge_balance(j, &all, &c.lower, c.z_mm, ks_spot_pair(j, thing, under));
}

/* The whole of a stack over the feet of what stands on the shelf. */
static void judge_root(ks_judge *j, const ks_thing *thing)
{
    burden all = burden_on(j, thing, true);
    if (!thing->piece || all.kg <= thing->piece->mass_kg)
        return;
    ks_outline feet = feet_of(thing->placed, j->arena);
    judge_balance(j, &all, &feet, 0, ks_spot_thing(j, thing));
}

/* Lids are fired on pots of their own, with nothing else in or on those; glazed ones beside them.
 */
static void judge_lid(ks_judge *j, const ks_thing *lid)
{
    const ks_thing *under = carrier_of(j, lid);
    if (!lid->piece || !lid->piece->lid_of || lid->placed->glazed)
        return;
    for (int i = 0; i < j->order->n_pieces; i++)
        if (ks_same_text(j->order->pieces[i].id, lid->piece->lid_of) && j->order->pieces[i].glazed)
            return;
    bool on = under && lid->placed->way == KS_LID;
    ks_note(j, RULE_LIDS, on ? 0 : -1, ks_spot_thing(j, lid));
    for (int i = 0; on && i < j->n_things; i++)
        if (&j->things[i] != lid && under_of(j, &j->things[i]) == under)
            ks_note(j, RULE_LIDS, -1, ks_spot_pair(j, lid, &j->things[i]));
}

void ks_check_stack(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i], *under = under_of(j, thing);
        judge_lid(j, thing);
        if (thing->root < 0)
            continue;
        if (thing->placed->way == KS_EDGE)
            judge_row(j, thing);
        judge_burden(j, thing);
        if (!under) {
            judge_root(j, thing);
            continue;
        }
        judge_rest(j, thing, under);
        judge_carrier(j, thing, under);
        judge_height(j, thing);
        judge_stand(j, thing, under);
    }
}
