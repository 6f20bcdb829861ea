#include "studio/stacked.h"

#include <math.h>

/* Plates and saucers stand a sixth of their breadth high and less, bowls a third and more. */
static const double flat_share = 0.25;

bool ks_piece_is_tile(const ks_piece *piece)
{
    return piece->n_parts == 1 && piece->parts[0].hollow.n == 0 && piece->parts[0].outline.n > 1 &&
           piece->parts[0].to_mm <= KS_TILE_MM;
}

static double breadth_mm(const ks_piece *piece)
{
    double widest = 0;
    for (int p = 0; p < piece->n_parts; p++) {
        ks_box box = ks_outline_box(&piece->parts[p].outline);
        widest = fmax(widest, fmax(box.x1 - box.x0, box.y1 - box.y0));
    }
    return widest;
}

bool ks_piece_is_flat(const ks_piece *piece)
{
    return ks_piece_is_tile(piece) || piece->height_mm <= flat_share * breadth_mm(piece);
}

bool ks_piece_is_open(const ks_piece *piece)
{
    for (int p = 0; p < piece->n_parts; p++)
        if (piece->parts[p].hollow.n > 0)
            return true;
    return false;
}

unsigned ks_ways_usual(const ks_piece *piece)
{
    if (piece->glazed || piece->stage == KS_LEATHER || piece->has_setter || piece->n_joints > 0 ||
        piece->role != KS_WARE || piece->runny)
        return 0;
    if (ks_piece_is_tile(piece))
        return KS_WAY_BIT(KS_PILE) | KS_WAY_BIT(KS_EDGE);
    if (ks_piece_is_flat(piece))
        return KS_WAY_BIT(KS_PILE);
    return ks_piece_is_open(piece) ? KS_WAY_BIT(KS_NEST) | KS_WAY_BIT(KS_RIM) : KS_WAY_BIT(KS_NEST);
}
