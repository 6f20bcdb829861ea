#include "pack/instance/penalty.h"

#include "pack/instance/nearest.h"

#include <math.h>

/* The point of a body that lies farthest along (dx, dy), a unit along an axis. */
static ks_point farthest(const ks_packing *packing, int body, double dx, double dy)
{
    const ks_item_type *kind = &packing->instance->kinds[packing->kind[body]];
    ks_point best = {0, 0};
    double most = -INFINITY;
    for (int s = 0; s < kind->n_slices; s++) {
        ks_core core = ks_packing_core(packing, body, kind->slices[s].core);
        double round = kind->slices[s].round;
        for (int c = 0; c < core.n; c++) {
            double reach = core.x[c] * dx + core.y[c] * dy + round;
            if (reach <= most)
                continue;
            most = reach;
            best = (ks_point){core.x[c] + round * dx, core.y[c] + round * dy};
        }
    }
    return best;
}

static ks_box box_of(const ks_packing *packing, int body)
{
    return (ks_box){farthest(packing, body, -1, 0).x, farthest(packing, body, 0, -1).y,
                    farthest(packing, body, 1, 0).x, farthest(packing, body, 0, 1).y};
}

static double short_aside(ks_box piece, ks_box other, int way, double need_mm)
{
    return need_mm - (way > 0 ? other.x0 - piece.x1 : piece.x0 - other.x1);
}

static bool is_behind(ks_box piece, ks_box other)
{
    return other.y0 + other.y1 > piece.y0 + piece.y1;
}

static double short_in_depth(ks_box piece, ks_box other)
{
    return is_behind(piece, other) ? piece.y1 - other.y0 : other.y1 - piece.y0;
}

double ks_hand_short_mm(ks_box piece, ks_box other, int way, double need_mm)
{
    return fmin(short_aside(piece, other, way, need_mm), short_in_depth(piece, other));
}

static double hand_strain(ks_penalty *penalty, const struct ks_hand *hand)
{
    const ks_packing *packing = penalty->packing;
    ks_box piece = box_of(packing, hand->piece);
    ks_box other = hand->other < 0 ? hand->there : box_of(packing, hand->other);
    double beyond = penalty->aim_mm + KS_PACK_ALLOWANCE;
    double aside = short_aside(piece, other, hand->way, hand->need_mm + beyond);
    double in_depth = short_in_depth(piece, other) + beyond;
    if (aside <= 0 || in_depth <= 0)
        return 0;
    double nx = aside <= in_depth ? hand->way : 0;
    double ny = nx != 0 ? 0 : is_behind(piece, other) ? 1 : -1;
    ks_point a = farthest(packing, hand->piece, nx, ny);
    ks_point b = hand->other < 0 ? a : farthest(packing, hand->other, -nx, -ny);
    ks_nearest_places touch = {0, nx, ny, a.x, a.y, b.x, b.y};
    return ks_penalty_add(penalty, hand->piece, hand->other, fmin(aside, in_depth), &touch);
}

double ks_penalty_hands(ks_penalty *penalty)
{
    double sum = 0;
    *penalty->work += penalty->n_hands;
    for (int h = 0; h < penalty->n_hands; h++)
        sum += hand_strain(penalty, &penalty->hands[h]);
    return sum;
}
