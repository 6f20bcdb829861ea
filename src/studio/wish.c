#include "studio/wish.h"

ks_level_wish ks_wish_of(const ks_order *order, const ks_piece *piece)
{
    ks_level_wish wish = piece->wish;
    if (wish.word == KS_ANY_LEVEL && !piece->keep.kept && (piece->tags & order->rules.low_tags))
        wish.word = KS_LOW;
    return wish;
}

bool ks_has_wish(const ks_level_wish *wish)
{
    return wish->word != KS_ANY_LEVEL || wish->beside;
}

/* Of an odd number of tiers the middle one is low too. Tiers with nothing on them make no other
 * lower. */
bool ks_wish_takes(const ks_level_wish *wish, ks_level_rank rank)
{
    switch (wish->word) {
    case KS_BOTTOM:
        return rank.tier == 1;
    case KS_LOW:
        return 2 * rank.nth <= rank.of + 1;
    case KS_TOP:
        return !rank.under_another;
    case KS_ON_TIER:
        return rank.tier == wish->tier;
    case KS_NOT_ON_TIER:
        return rank.tier != wish->tier;
    case KS_ANY_LEVEL:
        break;
    }
    return true;
}
