#include "pack/tower/tower_label.h"

#include <math.h>
#include <string.h>

#define LEVEL_MM 0.001                /* heights that differ by no more are one */
#define TILT_SINE 0.08715574274765817 /* of 5 degrees, at which a stack still stands */
#define TILT_COSINE 0.99619469809174555

static bool has_lid(const ks_order *order, const ks_piece *pot)
{
    for (int i = 0; i < order->n_pieces; i++)
        if (order->pieces[i].lid_of && strcmp(order->pieces[i].lid_of, pot->id) == 0)
            return true;
    return false;
}

static bool is_stacked(const ks_order *order, const ks_piece *piece)
{
    return (piece->ways != 0 || piece->lid_of || has_lid(order, piece)) && !piece->locked_out &&
           !piece->on_id && !piece->keep.kept && !piece->glazed && !piece->runny &&
           !piece->has_setter && (piece->count > 0 || piece->fill) && piece->role == KS_WARE;
}

ks_labels ks_labels_of(const ks_order *order, double tallest_mm, ks_arena *arena)
{
    static const ks_pose poses[] = {KS_UPRIGHT, KS_INVERTED};
    ks_labels all = {.order = order, .arena = arena, .tallest_mm = tallest_mm};
    all.stances = KS_TAKE(arena, 2 * order->n_pieces, ks_stance);
    for (int i = 0; i < order->n_pieces; i++)
        for (int p = 0; p < 2 && is_stacked(order, &order->pieces[i]); p++)
            all.n_stances += ks_stance_of(order, i, poses[p], arena, &all.stances[all.n_stances]);
    all.rises = KS_TAKE(arena, all.n_stances * all.n_stances, double);
    for (int i = 0; i < all.n_stances * all.n_stances; i++)
        all.rises[i] = -1;
    return all;
}

static double rise_of(const ks_labels *all, int lower, int upper)
{
    double *known = &all->rises[lower * all->n_stances + upper];
    if (*known < 0)
        *known = ks_stance_rise(&all->stances[lower], &all->stances[upper]);
    return *known;
}

static const ks_piece *piece_at(const ks_labels *all, int stance)
{
    return &all->order->pieces[all->stances[stance].piece];
}

static double reach_mm(const ks_stance *stance)
{
    double most = 0;
    for (int p = 0; p < stance->n_parts; p++)
        most = fmax(most, ks_outline_reach(&stance->parts[p].outline));
    return most;
}

bool ks_label_begun(const ks_labels *all, int stance, ks_tower_label *out)
{
    const ks_stance *it = &all->stances[stance];
    if (it->pose != piece_at(all, stance)->pose || piece_at(all, stance)->lid_of ||
        it->height_mm > all->tallest_mm)
        return false;
    *out = (ks_tower_label){.n = 1, .base = stance, .top = stance, .run = 1, .rims = 1};
    out->worth = piece_at(all, stance)->worth;
    out->height_mm = it->height_mm;
    out->bears_kg = all->order->rules.stacking.carried * it->mass_kg;
    out->reach_mm = reach_mm(it);
    out->stances[0] = stance;
    return true;
}

static bool is_lid_of(const ks_labels *all, int upper, int lower)
{
    const ks_piece *lid = piece_at(all, upper), *pot = piece_at(all, lower);
    return lid->lid_of && strcmp(lid->lid_of, pot->id) == 0;
}

static bool both_may(const ks_stance *a, const ks_stance *b, ks_way way)
{
    return a->ways & b->ways & KS_WAY_BIT(way);
}

/* Two hollow ones: within one another where they meet below the rim, else on it, be it that a foot
 * stands there or that a wider form hangs in it. */
static ks_way way_into(const ks_labels *all, int lower, int upper, double rise_mm)
{
    const ks_stance *under = &all->stances[lower], *over = &all->stances[upper];
    double contact = ks_stance_contact_mm(under, over, rise_mm);
    if (contact < under->height_mm - LEVEL_MM)
        return both_may(under, over, KS_NEST) && over->pose == under->pose ? KS_NEST : KS_NO_WAY;
    bool hangs = rise_mm < under->height_mm - LEVEL_MM;
    if (under->thin || under->flat || under->pose != KS_UPRIGHT ||
        (!hangs && !ks_stance_is_within(under, over, rise_mm)))
        return KS_NO_WAY;
    return both_may(under, over, KS_RIM) ? KS_RIM : KS_NO_WAY;
}

/* How it would stand there; KS_NO_WAY = not at all. A pot whose lid is fired carries nothing else.
 */
static ks_way way_onto(const ks_labels *all, int lower, int upper, double rise_mm)
{
    const ks_stance *under = &all->stances[lower], *over = &all->stances[upper];
    bool upright = under->pose == KS_UPRIGHT && over->pose == KS_UPRIGHT;
    if (piece_at(all, upper)->lid_of)
        return upright && is_lid_of(all, upper, lower) ? KS_LID : KS_NO_WAY;
    if (!under->carries || has_lid(all->order, piece_at(all, lower)))
        return KS_NO_WAY;
    if (under->flat && over->flat)
        return upright && both_may(under, over, KS_PILE) &&
                       ks_stance_is_within(under, over, rise_mm) &&
                       ks_stance_is_aligned(under, over, all->arena)
                   ? KS_PILE
                   : KS_NO_WAY;
    return way_into(all, lower, upper, rise_mm);
}

static int run_most(const ks_labels *all, int stance, ks_way way)
{
    const ks_stacking *rule = &all->order->rules.stacking;
    if (way == KS_PILE)
        return all->stances[stance].tile ? rule->tiles : rule->plates;
    return way == KS_NEST ? rule->nest : way == KS_LID ? 2 : rule->rims;
}

/* Whether it stands as well the right way up, so that something may still come on top: upright is
 * the stance before it. */
static bool is_upset_in_vain(const ks_labels *all, int lower, int upper)
{
    if (all->stances[upper].pose != KS_INVERTED)
        return false;
    double rise = rise_of(all, lower, upper - 1);
    return rise <= rise_of(all, lower, upper) + LEVEL_MM &&
           way_onto(all, lower, upper - 1, rise) != KS_NO_WAY;
}

/* Its lift: it rests on the top, and nothing below is in its way. */
static bool rests(const ks_labels *all, const ks_tower_label *from, int stance, double *lift_mm)
{
    *lift_mm = from->lifts[from->n - 1] + rise_of(all, from->top, stance);
    for (int m = 0; m + 1 < from->n; m++)
        if (from->lifts[m] + rise_of(all, from->stances[m], stance) > *lift_mm + LEVEL_MM)
            return false;
    return true;
}

/* Whether all from member `from` up stands on what is under it, also at 5 degrees. */
static bool stands_on(const ks_labels *all, const ks_tower_label *label, int from)
{
    double mass = 0, x = 0, y = 0, z = 0, foot = label->lifts[from];
    for (int m = from; m < label->n; m++) {
        const ks_stance *it = &all->stances[label->stances[m]];
        mass += it->mass_kg;
        x += it->mass_kg * it->centre.x;
        y += it->mass_kg * it->centre.y;
        z += it->mass_kg * (label->lifts[m] + it->centre.z - foot);
    }
    const ks_stance *lower = from > 0 ? &all->stances[label->stances[from - 1]] : NULL;
    double rise = from > 0 ? foot - label->lifts[from - 1] : 0;
    double held = ks_stance_held_mm(lower, &all->stances[label->stances[from]], rise);
    double off = sqrt(x * x + y * y) / mass, tips = z / mass * TILT_SINE / TILT_COSINE;
    return mass > 0 && held - off - tips >= 0;
}

static bool stands(const ks_labels *all, const ks_tower_label *label)
{
    for (int m = 0; m < label->n; m++)
        if (!stands_on(all, label, m))
            return false;
    return true;
}

/* Not more of a piece than the order has. */
static bool is_there(const ks_labels *all, const ks_tower_label *label)
{
    int piece = all->stances[label->top].piece, n = 0;
    for (int m = 0; m < label->n; m++)
        n += all->stances[label->stances[m]].piece == piece;
    return all->order->pieces[piece].fill || n <= all->order->pieces[piece].count;
}

static void put_on(const ks_labels *all, int stance, ks_way way, double lift_mm,
                   ks_tower_label *out)
{
    const ks_stance *it = &all->stances[stance];
    int m = out->n++;
    out->run = way == out->way || m == 1 ? out->run + 1 : 2;
    out->rims += way == KS_RIM;
    out->top = stance;
    out->way = way;
    out->stances[m] = stance;
    out->ways[m] = way;
    out->lifts[m] = lift_mm;
    out->worth += piece_at(all, stance)->worth;
    out->height_mm = fmax(out->height_mm, lift_mm + it->height_mm);
    out->bears_kg =
        fmin(out->bears_kg - it->mass_kg, all->order->rules.stacking.carried * it->mass_kg);
    out->reach_mm = fmax(out->reach_mm, reach_mm(it));
}

bool ks_label_grown(const ks_labels *all, const ks_tower_label *from, int stance,
                    ks_tower_label *out)
{
    double lift;
    const ks_stance *it = &all->stances[stance];
    if (from->n == KS_TOWER_MOST || it->mass_kg > from->bears_kg + 1e-9 || from->way == KS_LID)
        return false;
    ks_way way = way_onto(all, from->top, stance, rise_of(all, from->top, stance));
    if (way == KS_NO_WAY || is_upset_in_vain(all, from->top, stance) ||
        !rests(all, from, stance, &lift) || lift + it->height_mm > all->tallest_mm)
        return false;
    *out = *from;
    put_on(all, stance, way, lift, out);
    double deep = lift - from->lifts[from->n - 1];
    return out->run <= run_most(all, stance, way) && out->rims <= all->order->rules.stacking.rims &&
           is_there(all, out) &&
           ks_stance_has_finger(&all->stances[from->top], it, deep,
                                all->order->rules.stacking.finger_mm) &&
           stands(all, out);
}

static int count_of(const ks_tower_label *label, int stance)
{
    int n = 0;
    for (int m = 0; m < label->n; m++)
        n += label->stances[m] == stance;
    return n;
}

bool ks_label_is_same(const ks_tower_label *a, const ks_tower_label *b)
{
    if (a->n != b->n || a->height_mm != b->height_mm)
        return false;
    for (int m = 0; m < a->n; m++)
        if (count_of(a, a->stances[m]) != count_of(b, a->stances[m]))
            return false;
    return true;
}

int ks_label_base(const ks_labels *all, const ks_tower_label *label)
{
    return all->stances[label->base].piece;
}

ks_tower ks_label_tower(const ks_labels *all, const ks_tower_label *label)
{
    ks_tower_member *members = KS_TAKE(all->out, label->n, ks_tower_member);
    for (int m = 0; m < label->n; m++) {
        const ks_stance *it = &all->stances[label->stances[m]];
        members[m] =
            (ks_tower_member){it->piece, m - 1, label->ways[m], it->pose, label->lifts[m], 0};
    }
    return (ks_tower){label->n, members};
}
