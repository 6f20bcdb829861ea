#include "check/check_judge.h"

#include <stdlib.h>

/* That every piece of the order is accounted for, once, and the user's wishes were heard. */

int ks_copies_in(const ks_load *load, int piece)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int k = 0; k < load->levels[l].n_pieces; k++)
            n += load->levels[l].pieces[k].piece == piece;
    return n;
}

static double left_out_of(const ks_judge *j, int piece)
{
    double n = 0;
    for (int i = 0; i < j->plan->n_left_out; i++)
        if (j->plan->left_out[i].piece == piece)
            n += j->plan->left_out[i].count;
    return n;
}

static ks_spot spot_of(const ks_piece *piece)
{
    return (ks_spot){.load = -1, .level = -1, .a = ks_text(piece->id)};
}

static int by_number(const void *a, const void *b)
{
    const int *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

static void judge_numbers(ks_judge *j, const ks_piece *piece, int n, int *copies)
{
    qsort(copies, (size_t)n, sizeof *copies, by_number);
    for (int i = 0; i < n; i++) {
        bool once = (i == 0 || copies[i] != copies[i - 1]) && copies[i] >= 1 &&
                    copies[i] <= (piece->fill ? n : piece->count);
        ks_spot where = spot_of(piece);
        where.copy_a = copies[i];
        ks_note(j, RULE_COUNTS, once ? 0 : -1, where);
    }
}

static void count_copies(ks_judge *j, int piece, int placed)
{
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, placed, int), found = 0;
    for (int n = 0; n < j->plan->n_loads; n++)
        for (int l = 0; l < j->plan->loads[n].n_levels; l++)
            for (int k = 0; k < j->plan->loads[n].levels[l].n_pieces; k++) {
                const ks_placed *one = &j->plan->loads[n].levels[l].pieces[k];
                if (one->piece == piece)
                    copies[found++] = one->copy;
            }
    judge_numbers(j, &j->order->pieces[piece], found, copies);
    if (j->order->pieces[piece].locked_out)
        ks_note(j, RULE_KEPT, -placed, spot_of(&j->order->pieces[piece]));
    ks_arena_finish(&scratch);
}

static void count_strangers(ks_judge *j)
{
    for (int n = 0; n < j->plan->n_loads; n++)
        for (int l = 0; l < j->plan->loads[n].n_levels; l++)
            for (int k = 0; k < j->plan->loads[n].levels[l].n_pieces; k++) {
                const ks_placed *placed = &j->plan->loads[n].levels[l].pieces[k];
                bool known = placed->piece >= 0 && placed->piece < j->order->n_pieces;
                if (!known && placed->role != KS_CONES)
                    ks_note(j, RULE_COUNTS, -1,
                            (ks_spot){n, l, ks_text(placed->id), placed->copy, NULL, 0});
            }
    for (int i = 0; i < j->plan->n_left_out; i++) {
        const ks_left_out *left = &j->plan->left_out[i];
        bool known = left->piece >= 0 && left->piece < j->order->n_pieces && left->count > 0 &&
                     ks_same_text(left->id, j->order->pieces[left->piece].id);
        if (!known)
            ks_note(j, RULE_COUNTS, -1, (ks_spot){.load = -1, .level = -1, .a = ks_text(left->id)});
    }
}

void ks_check_counts(ks_judge *j)
{
    for (int p = 0; p < j->order->n_pieces; p++) {
        int placed = 0;
        double left = left_out_of(j, p);
        for (int l = 0; l < j->plan->n_loads; l++)
            placed += ks_copies_in(&j->plan->loads[l], p);
        const ks_piece *piece = &j->order->pieces[p];
        /* Of ware that fills any number may stand, and none waits. */
        ks_note(j, RULE_COUNTS, piece->fill ? -left : -fabs(placed + left - piece->count),
                spot_of(piece));
        if (piece->must_go)
            ks_note(j, RULE_MUST_GO, -left, spot_of(piece));
        if (placed > 0)
            count_copies(j, p, placed);
    }
    count_strangers(j);
}

/* Pieces of one set: all copies of all of them in one load, or none anywhere. */
static void set_judge(ks_judge *j, int first)
{
    const char *set = j->order->pieces[first].set;
    double wanted = 0, most = 0, any = 0;
    for (int p = first; p < j->order->n_pieces; p++)
        wanted += ks_same_text(j->order->pieces[p].set, set) ? j->order->pieces[p].count : 0;
    for (int l = 0; l < j->plan->n_loads; l++) {
        double here = 0;
        for (int p = first; p < j->order->n_pieces; p++)
            here += ks_same_text(j->order->pieces[p].set, set) ? ks_copies_in(&j->plan->loads[l], p)
                                                               : 0;
        most = here > most ? here : most;
        any += here;
    }
    ks_note(j, RULE_SETS, any == 0 ? 0 : most - wanted,
            (ks_spot){.load = -1, .level = -1, .a = set});
}

static void judge_sets(ks_judge *j)
{
    for (int p = 0; p < j->order->n_pieces; p++) {
        bool first = ks_text(j->order->pieces[p].set)[0] != '\0';
        for (int q = 0; q < p && first; q++)
            first = !ks_same_text(j->order->pieces[q].set, j->order->pieces[p].set);
        if (first)
            set_judge(j, p);
    }
}

void ks_check_wishes(ks_judge *j)
{
    judge_sets(j);
    ks_check_keep(j);
}
