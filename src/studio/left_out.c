#include "studio/left_out.h"

#include "base/retold.h"

const char *ks_left_out_why(const ks_left_out *left, ks_arena *arena)
{
    const char *why = ks_retold(left->why, arena);
    if (!left->detail || !*left->detail)
        return why;
    return ks_arena_print(arena, "%s, %s", why, ks_retold(left->detail, arena));
}

const char *ks_left_out_nearest(const ks_left_out *left, ks_arena *arena)
{
    return left->nearest ? ks_retold(left->nearest, arena) : "";
}
