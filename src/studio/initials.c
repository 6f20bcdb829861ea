#include "studio/initials.h"

#include <string.h>

static bool parts_words(uint32_t code)
{
    return code <= ' ' || code == '-' || code == '.' || code == '_';
}

static bool is_digit(uint32_t code)
{
    return code >= '0' && code <= '9';
}

const char *ks_initials(const char *name, ks_arena *arena)
{
    enum { MOST = 3 };
    ks_text text = {.arena = arena};
    uint32_t before = ' ';
    int words = 0;
    for (int bytes; *name; name += bytes) {
        uint32_t code = 0;
        bytes = ks_utf8_next(name, strnlen(name, 4), &code);
        if (bytes < 1)
            break;
        bool starts = parts_words(before) && !parts_words(code);
        words += starts;
        if (words > MOST)
            break;
        if (starts || (is_digit(before) && is_digit(code)))
            ks_text_add_n(&text, name, (size_t)bytes);
        before = code;
    }
    return ks_text_end(&text);
}

const ks_member *ks_member_of(const ks_order *order, const char *id)
{
    for (int i = 0; i < order->n_members; i++)
        if (strcmp(order->members[i].id, id) == 0)
            return &order->members[i];
    return NULL;
}

const char *ks_owner_initials(const ks_order *order, const char *id, ks_arena *arena)
{
    const ks_member *member = ks_member_of(order, id);
    if (member && member->initials && *member->initials)
        return member->initials;
    return ks_initials(member && member->name && *member->name ? member->name : id, arena);
}
