#include "studio/stage_after.h"

/* A firing that ends by temperature is a bisque firing up to about where that cone bends. */
#define BISQUE_MOST_C 1070

static bool is_bisque_firing(const ks_firing *firing)
{
    if (!firing->cone || !*firing->cone)
        return firing->top_temp_c > 0 && firing->top_temp_c <= BISQUE_MOST_C;
    return ks_cone_rank(firing->cone) <= ks_cone_rank(KS_BISQUE_CONE);
}

ks_stage ks_stage_after(const ks_piece *piece, const ks_firing *firing)
{
    bool bare = piece->stage <= KS_BISQUE && !piece->glazed;
    return bare && is_bisque_firing(firing) ? KS_BISQUE : KS_FIRED;
}
