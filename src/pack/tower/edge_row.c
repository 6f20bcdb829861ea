#include "pack/tower/tower_label.h"

#include <math.h>

/* Lengths, in pieces, a quarter more each: one of them nearly fills any stretch. */
static int longer(int n)
{
    return n < 8 ? n + 1 : n + n / 8;
}

static double thick_mm(const ks_stance *tile)
{
    ks_box box = ks_outline_box(&tile->parts[0].outline);
    return box.y1 - box.y0;
}

/* The first's block is longer by what the row leans, about its own middle. */
static double middle_mm(int m, int n, double thick, double lean)
{
    double start = -(n * thick + lean) / 2;
    double at = m == 0 ? start + (thick + lean) / 2 : start + lean + (m + 0.5) * thick;
    return floor(at * 1000 + 0.5) / 1000;
}

static ks_tower row_of(int piece, int n, double thick, double height, ks_arena *arena)
{
    ks_tower_member *members = KS_TAKE(arena, n, ks_tower_member);
    for (int m = 0; m < n; m++)
        members[m] = (ks_tower_member){.piece = piece,
                                       .on = m - 1,
                                       .way = KS_EDGE,
                                       .pose = KS_ON_EDGE,
                                       .aside_mm = middle_mm(m, n, thick, KS_LEAN * height)};
    return (ks_tower){n, members};
}

int ks_rows_on_edge(const ks_order *order, double longest_mm, double tallest_mm, int most,
                    ks_arena *arena, ks_tower *out)
{
    int n = 0;
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        ks_stance tile;
        if (!(piece->ways & KS_WAY_BIT(KS_EDGE)) || piece->locked_out || piece->on_id ||
            piece->keep.kept || piece->pose != KS_UPRIGHT ||
            !ks_stance_of(order, i, KS_ON_EDGE, arena, &tile) || tile.height_mm > tallest_mm)
            continue;
        double thick = thick_mm(&tile);
        int there = piece->fill ? KS_TOWER_MOST : piece->count;
        for (int m = 2;
             m <= there && m * thick + KS_LEAN * tile.height_mm <= longest_mm && n < most;
             m = longer(m))
            out[n++] = row_of(i, m, thick, tile.height_mm, arena);
    }
    return n;
}
