#include "check/check_judge.h"

/* That ware the order keeps in a place of its own stands there, or waits. */

static int number_in_bay(const ks_load *load, int l)
{
    int number = 0;
    for (int m = 0; m < load->n_levels; m++)
        number += ks_same_text(load->levels[m].bay, load->levels[l].bay) &&
                  load->levels[m].z_mm < load->levels[l].z_mm;
    return number;
}

/* How far a copy stands from where the user wants it; infinity on another level. */
static double off_place(const ks_keep *keep, const ks_load *load, int l, const ks_placed *placed)
{
    if (number_in_bay(load, l) != keep->level ||
        (ks_text(keep->bay)[0] && !ks_same_text(keep->bay, load->levels[l].bay)))
        return INFINITY;
    double x = placed->stand.x - keep->stand.x, y = placed->stand.y - keep->stand.y;
    double turn = fabs(placed->stand.turn_deg - keep->stand.turn_deg);
    return fmax(sqrt(x * x + y * y), turn);
}

/* By how far the copy nearest to its place in this load is off it. */
static double off_in_load(const ks_judge *j, int piece, const ks_load *load)
{
    double nearest = INFINITY;
    for (int l = 0; l < load->n_levels; l++)
        for (int k = 0; k < load->levels[l].n_pieces; k++) {
            const ks_placed *placed = &load->levels[l].pieces[k];
            if (placed->piece == piece)
                nearest = fmin(nearest, off_place(&j->order->pieces[piece].keep, load, l, placed));
        }
    return nearest;
}

static bool is_home(const int *home, int n_slots, int load)
{
    for (int s = 0; s < n_slots; s++)
        if (home[s] == load)
            return true;
    return false;
}

/* By how far a piece is off its place. A plan leaves out loads that are not fired, so which of the
 * order's loads one is has to be found: it is fired so, on that day, and what is kept there tells
 * it from others alike, each load being one of the order's only. */
static double off_at_home(const ks_judge *j, int piece, int *home)
{
    int slot = j->order->pieces[piece].keep.load;
    if (slot < 0 || slot >= j->order->n_slots)
        return INFINITY;
    double nearest = INFINITY;
    int at = -1;
    for (int n = 0; n < j->plan->n_loads; n++) {
        bool may = home[slot] >= 0 ? home[slot] == n
                                   : ks_slot_takes(j->order, slot, &j->plan->loads[n]) &&
                                         !is_home(home, j->order->n_slots, n);
        double off = may ? off_in_load(j, piece, &j->plan->loads[n]) : INFINITY;
        at = off < nearest ? n : at;
        nearest = fmin(nearest, off);
    }
    if (nearest <= 1.5 * KS_GRID)
        home[slot] = at;
    return nearest;
}

/* Where copies wait, the one that is kept may be among them. */
static bool all_are_placed(const ks_judge *j, int piece)
{
    int n = 0;
    for (int l = 0; l < j->plan->n_loads; l++)
        n += ks_copies_in(&j->plan->loads[l], piece);
    return n > 0 && n >= j->order->pieces[piece].count;
}

void ks_check_keep(ks_judge *j)
{
    int *home = KS_TAKE(j->arena, j->order->n_slots, int);
    for (int s = 0; s < j->order->n_slots; s++)
        home[s] = -1;
    for (int p = 0; p < j->order->n_pieces; p++) {
        const ks_piece *piece = &j->order->pieces[p];
        if (!piece->keep.kept || !all_are_placed(j, p))
            continue;
        double off = off_at_home(j, p, home);
        ks_note(j, RULE_KEPT, off <= 1.5 * KS_GRID ? 0 : -off,
                (ks_spot){.load = -1, .level = -1, .a = ks_text(piece->id)});
    }
}
