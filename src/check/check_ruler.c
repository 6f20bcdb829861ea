#include "check/check_judge.h"

/* What of a plan holds however far sizes measured by hand may be out, and which of them to take
 * again: those that leave a level less room than they may be out by, and those of waiting ware that
 * lacks no more. */

/* A ruler held to a pot (common practice, no source). */
static const double by_hand_mm = 2;

static double error_mm(const ks_piece *piece)
{
    if (piece->tape_mm > 0)
        return piece->tape_mm;
    return fmax(by_hand_mm, piece->tape_part * piece->height_mm);
}

typedef struct {
    ks_judge *j;
    ks_ruler *ruler;
    double *decides_mm; /* of each piece: by the least of these the plan would be another */
    ks_spot *at;
    double *lacks_mm; /* of each piece: on the level that is nearest to tall enough */
} measuring;

static bool is_top(const ks_load *load, const ks_level *level)
{
    return level->z_mm + level->gap_mm >= load->height_mm - KS_GRID;
}

/* Room for ware, up to the clearance from what is over it. */
static double clear_mm(const ks_load *load, const ks_level *level)
{
    return level->gap_mm - (is_top(load, level) ? load->clearance.lid : load->clearance.above);
}

static void measure_placed(measuring *m, const ks_load *load, const ks_level *level, ks_spot at)
{
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i];
        if (placed->piece < 0 || placed->piece >= m->j->order->n_pieces)
            continue;
        double error = error_mm(&m->j->order->pieces[placed->piece]);
        double spare = clear_mm(load, level) - placed->top_mm;
        double over = level->gap_mm - placed->top_mm - error;
        m->ruler->error_mm = fmax(m->ruler->error_mm, error);
        m->ruler->above_mm = fmin(m->ruler->above_mm, over);
        if (spare < error && spare < m->decides_mm[placed->piece]) {
            m->decides_mm[placed->piece] = fmax(spare, 0);
            m->at[placed->piece] = at;
        }
    }
}

static void measure_waiting(measuring *m, const ks_load *load, const ks_level *level, ks_spot at)
{
    for (int i = 0; i < m->j->plan->n_left_out; i++) {
        int p = m->j->plan->left_out[i].piece;
        if (p < 0 || p >= m->j->order->n_pieces)
            continue;
        double lacks = m->j->order->pieces[p].height_mm - clear_mm(load, level);
        if (lacks < m->lacks_mm[p]) {
            m->lacks_mm[p] = lacks;
            m->at[p] = at;
        }
    }
}

/* What waits though it is low enough for a level waits for something else. */
static void settle_waiting(measuring *m)
{
    for (int p = 0; p < m->j->order->n_pieces; p++)
        if (m->lacks_mm[p] > 0 && m->lacks_mm[p] <= error_mm(&m->j->order->pieces[p]) &&
            m->lacks_mm[p] < m->decides_mm[p])
            m->decides_mm[p] = m->lacks_mm[p];
}

/* Those that decide by the least. */
static void choose(measuring *m)
{
    ks_ruler *ruler = m->ruler;
    while (ruler->n < KS_MEASURES) {
        int best = -1;
        for (int p = 0; p < m->j->order->n_pieces; p++)
            if (m->decides_mm[p] < (best < 0 ? INFINITY : m->decides_mm[best]))
                best = p;
        if (best < 0)
            return;
        ruler->of[ruler->n++] =
            (ks_measure){m->j->order->pieces[best].id, ks_spot_text(m->j, m->at[best]),
                         m->decides_mm[best], m->lacks_mm[best] <= m->decides_mm[best]};
        m->decides_mm[best] = INFINITY;
    }
}

/* Two pieces each as much wider come nearer by the whole of it, one and a wall or post by half. */
static double least_beside(const ks_judge *j, const ks_load *load, double error)
{
    double ware = load->clearance.ware + j->tallies[RULE_WARE].tightest - error,
           wall = load->clearance.wall + j->tallies[RULE_WALL].tightest - error / 2,
           post = load->clearance.post + j->tallies[RULE_NEAR_POSTS].tightest - error / 2;
    return fmin(ware, fmin(wall, post));
}

void ks_check_ruler(ks_judge *j, ks_ruler *ruler)
{
    int n = j->order->n_pieces;
    measuring m = {j, ruler, KS_TAKE(j->arena, n, double), KS_TAKE(j->arena, n, ks_spot),
                   KS_TAKE(j->arena, n, double)};
    *ruler = (ks_ruler){.error_mm = by_hand_mm, .beside_mm = INFINITY, .above_mm = INFINITY};
    for (int p = 0; p < n; p++)
        m.decides_mm[p] = m.lacks_mm[p] = INFINITY;
    for (int l = 0; l < j->plan->n_loads; l++)
        for (int v = 0; v < j->plan->loads[l].n_levels; v++) {
            const ks_load *load = &j->plan->loads[l];
            measure_placed(&m, load, &load->levels[v], (ks_spot){.load = l, .level = v});
            measure_waiting(&m, load, &load->levels[v], (ks_spot){.load = l, .level = v});
        }
    settle_waiting(&m);
    choose(&m);
    for (int l = 0; l < j->plan->n_loads; l++)
        ruler->beside_mm =
            fmin(ruler->beside_mm, least_beside(j, &j->plan->loads[l], ruler->error_mm));
}
