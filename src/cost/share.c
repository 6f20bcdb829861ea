#include "cost/share.h"

#include "cost/fine.h"
#include "cost/tariff.h"
#include "studio/initials.h"

#include <string.h>

int ks_payer_of(const ks_order *order, const char *owner)
{
    const ks_member *member = owner ? ks_member_of(order, owner) : NULL;
    return member ? (int)(member - order->members) : order->n_members;
}

double ks_guest_factor(const ks_order *order, int payer)
{
    bool guest = payer < order->n_members && order->members[payer].guest;
    return guest ? order->money->guest_factor : 1;
}

bool ks_loads_together(const ks_order *order, ks_share_rule rule)
{
    return order->money->pool == KS_LOADS_TOGETHER && rule != KS_SHARE_RATE;
}

void ks_share_line(ks_share *share, const char *what, const char *how, int64_t minor,
                   ks_arena *arena)
{
    if (minor == 0)
        return;
    ks_cost_line_add(&share->lines, what, how, ks_minor_fine(minor), arena);
    share->minor += minor;
}
