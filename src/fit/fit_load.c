/* Orders made from an order, to ask what goes into one load. */
#include "fit/fit_way.h"

static bool is_named(int piece, int n, const int *pieces)
{
    for (int i = 0; i < n; i++)
        if (pieces[i] == piece)
            return true;
    return false;
}

/* Fired as suits the first of the named. First the named, so that their places among the pieces are
 * known; of the others what is not kept anywhere and stands on nothing. A named piece's further
 * copies wait. */
ks_order *ks_fit_load_order(const ks_order *order, int n, const int *pieces, bool others,
                            const ks_kiln *kiln, ks_arena *arena)
{
    ks_order *out = KS_TAKE(arena, 1, ks_order);
    ks_slot *slot = KS_TAKE(arena, 1, ks_slot);
    ks_kiln *only = KS_TAKE(arena, 1, ks_kiln);
    *out = *order;
    *only = *kiln;
    *slot = (ks_slot){.firing = ks_fit_firing(order, &order->pieces[pieces[0]], arena),
                      .day = KS_NO_DAY};
    out->kilns = only;
    out->slots = slot;
    out->n_kilns = out->n_slots = 1;
    out->pieces = KS_TAKE(arena, n + order->n_pieces, ks_piece);
    out->n_pieces = 0;
    for (int i = 0; i < n; i++) {
        ks_piece piece = order->pieces[pieces[i]];
        piece.count = 1;
        piece.must_go = true;
        piece.locked_out = piece.keep.kept = piece.fill = false;
        piece.on_id = NULL;
        piece.set = "";
        out->pieces[out->n_pieces++] = piece;
    }
    for (int i = 0; others && i < order->n_pieces; i++) {
        ks_piece piece = order->pieces[i];
        piece.must_go = piece.keep.kept = piece.fill = false;
        if (!is_named(i, n, pieces) && !piece.locked_out && !piece.on_id)
            out->pieces[out->n_pieces++] = piece;
    }
    return out;
}
