#include "cost/share.h"

#include "cost/fine.h"
#include "cost/tariff.h"

void ks_share_line(ks_share *share, const char *what, const char *how, int64_t minor,
                   ks_arena *arena)
{
    if (minor == 0)
        return;
    ks_cost_line_add(&share->lines, what, how, ks_minor_fine(minor), arena);
    share->minor += minor;
}
