#include "draw/facts/facts.h"
#include "draw/scene/letter.h"

#include <string.h>

static const ks_member *member_of(const ks_order *order, const char *id)
{
    for (int i = 0; i < order->n_members; i++)
        if (strcmp(order->members[i].id, id) == 0)
            return &order->members[i];
    return NULL;
}

/* The first letter of each word, at most three. */
static const char *initials_from(const char *name, ks_arena *arena)
{
    char *text = ks_arena_take(arena, 3 * 4 + 1, 1);
    int used = 0, letters = 0, bytes;
    bool starts = true;
    for (; *name && letters < 3; name += bytes) {
        uint32_t point = ks_letter_next(name, &bytes);
        bool space = point <= ' ' || point == '-' || point == '.' || point == '_';
        if (starts && !space) {
            used += ks_utf8_put(point, text + used);
            letters++;
        }
        starts = space;
    }
    return text;
}

const char *ks_owner_initials(const ks_order *order, const char *id, ks_arena *arena)
{
    const ks_member *member = member_of(order, id);
    if (member && member->initials && *member->initials)
        return member->initials;
    return initials_from(member && member->name && *member->name ? member->name : id, arena);
}

static const char *letter_of(int nth, ks_arena *arena)
{
    if (nth < 26)
        return ks_arena_print(arena, "%c", 'A' + nth);
    return ks_arena_print(arena, "%c%c", 'A' + (nth / 26 - 1) % 26, 'A' + nth % 26);
}

static const char *owner_words(const ks_order *order, const char *id, bool full, ks_arena *arena)
{
    if (!*id)
        return ks_tr("studio");
    const ks_member *member = member_of(order, id);
    if (full)
        return member && member->name && *member->name ? member->name : id;
    return ks_owner_initials(order, id, arena);
}

/* All but the cross-hatching that stands for "keep free". */
enum { OWNER_HATCHES = KS_HATCHES - 1 };
static const int hatches[OWNER_HATCHES] = {0, 1, 2, 4, 5};

static ks_owner *note_owner(ks_facts *facts, int *room, const char *id, bool full, ks_arena *arena)
{
    for (int i = 0; i < facts->n_owners; i++)
        if (strcmp(facts->owners[i].id, id) == 0)
            return &facts->owners[i];
    facts->owners = KS_GROW(arena, facts->owners, facts->n_owners, room, ks_owner);
    int nth = facts->n_owners++;
    ks_owner *owner = &facts->owners[nth];
    *owner = (ks_owner){.id = id,
                        .words = owner_words(facts->plan->order, id, full, arena),
                        .letter = letter_of(nth, arena),
                        .fill = 1 + nth % KS_FILLS,
                        .hatch = hatches[nth / KS_FILLS % OWNER_HATCHES]};
    return owner;
}

/* Owners in the order of the members list, so that a letter stays theirs over all loads. */
void ks_owners_find(ks_facts *facts, bool full_names, ks_arena *arena)
{
    const ks_order *order = facts->plan->order;
    const ks_load *load = facts->load;
    int room = 0;
    for (int i = 0; i < order->n_members; i++)
        (void)note_owner(facts, &room, order->members[i].id, full_names, arena);
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_pieces; k++) {
            const ks_placed *placed = &load->levels[i].pieces[k];
            if (placed->role != KS_CONES)
                note_owner(facts, &room, placed->owner ? placed->owner : "", full_names, arena)
                    ->pieces++;
        }
}
