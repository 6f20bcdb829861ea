#include "studio/left_out.h"

#include "base/language.h"
#include "studio/reason_list.h"
#include "studio/reason_words.h"

const char *ks_left_out_kind(const ks_left_out *left)
{
    return left->rule.name == KS_UNTOLD ? left->why : ks_reason_entry_of(left->rule.name)->why;
}

static const char *detail_of(const ks_left_out *left, const ks_display *display, ks_arena *arena)
{
    if (left->rule.name != KS_UNTOLD)
        return ks_reason_words(&left->rule, display, arena);
    return left->detail ? left->detail : "";
}

const char *ks_left_out_why(const ks_left_out *left, const ks_display *display, ks_arena *arena)
{
    const char *why = ks_tr(ks_left_out_kind(left)), *detail = detail_of(left, display, arena);
    return *detail ? ks_arena_print(arena, "%s, %s", why, detail) : why;
}

const char *ks_left_out_nearest(const ks_left_out *left, const ks_display *display, ks_arena *arena)
{
    if (left->change.name != KS_UNTOLD)
        return ks_reason_words(&left->change, display, arena);
    return left->nearest ? left->nearest : "";
}
