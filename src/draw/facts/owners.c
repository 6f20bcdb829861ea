#include "draw/facts/facts.h"
#include "draw/scene/letter.h"
#include "studio/initials.h"

#include <string.h>

/* The first `letters` of a word. */
static const char *head_of(const char *word, int letters, ks_arena *arena)
{
    int end = 0, bytes;
    for (; letters > 0 && word[end] && word[end] != ' '; letters--) {
        (void)ks_letter_next(word + end, &bytes);
        end += bytes;
    }
    return ks_arena_text_n(arena, word, (size_t)end);
}

static const char *name_of(const ks_order *order, const char *id)
{
    const ks_member *member = ks_member_of(order, id);
    return member && member->name && *member->name ? member->name : *id ? id : ks_tr("Studio");
}

/* Initials that have grown: `first` more letters of the first word, `last` more of the last one.
 * "Mo Carr", 0, 1: "MCa". */
static const char *grown_initials(const char *name, int first, int last, ks_arena *arena)
{
    while (*name == ' ')
        name++;
    const char *end = strrchr(name, ' ');
    if (!end || !end[1])
        return head_of(name, 1 + first + last, arena);
    return ks_say_join(arena, "", head_of(name, 1 + first, arena),
                       head_of(end + 1, 1 + last, arena));
}

/* Whether those who share a mark are unlike each other, and all others, with grown ones. */
static bool are_unlike(const ks_owner *owners, int n, const char *const *marks)
{
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++)
            if (k != i && marks[i] &&
                (!*marks[i] || strcmp(marks[i], marks[k] ? marks[k] : owners[k].mark) == 0))
                return false;
    return true;
}

/* Grows the marks of all who have the mark of owner `of`, until they are unlike; else counts them.
 */
static void part_marks(ks_facts *facts, int of, ks_arena *arena)
{
    enum { MOST = 3 };
    static const int more[][2] = {{0, 1}, {1, 0}, {0, 2}, {2, 0}, {1, 1}, {0, MOST}, {MOST, 0}};
    int n = facts->n_owners, count = 0;
    const char **marks = KS_TAKE(arena, n, const char *), *shared = facts->owners[of].mark;
    bool unlike = false;
    for (size_t try = 0; !unlike && try < sizeof more / sizeof *more; try++) {
        for (int i = 0; i < n; i++)
            if (strcmp(facts->owners[i].mark, shared) == 0)
                marks[i] = grown_initials(name_of(facts->plan->order, facts->owners[i].id),
                                          more[try][0], more[try][1], arena);
        unlike = are_unlike(facts->owners, n, marks);
    }
    for (int i = 0; i < n; i++)
        if (marks[i])
            facts->owners[i].mark =
                unlike ? marks[i] : ks_arena_print(arena, "%s%d", shared, ++count);
}

/* Those whose initials are the same get longer ones: no two owners have one mark. */
static void mark_owners(ks_facts *facts, ks_arena *arena)
{
    for (int i = 0; i < facts->n_owners; i++)
        for (int k = 0; k < i; k++)
            if (strcmp(facts->owners[i].mark, facts->owners[k].mark) == 0) {
                part_marks(facts, i, arena);
                break;
            }
}

/* All but the cross-hatching that stands for "keep free". */
enum { OWNER_HATCHES = KS_HATCHES - 1 };
static const int hatches[OWNER_HATCHES] = {0, 1, 2, 4, 5};

static ks_owner *note_owner(ks_facts *facts, int *room, const char *id, ks_arena *arena)
{
    for (int i = 0; i < facts->n_owners; i++)
        if (strcmp(facts->owners[i].id, id) == 0)
            return &facts->owners[i];
    facts->owners = KS_GROW(arena, facts->owners, facts->n_owners, room, ks_owner);
    int nth = facts->n_owners++;
    ks_owner *owner = &facts->owners[nth];
    *owner = (ks_owner){.id = id,
                        .mark = *id ? ks_owner_initials(facts->plan->order, id, arena)
                                    : ks_initials(ks_tr("Studio"), arena),
                        .fill = 1 + nth % KS_FILLS,
                        .hatch = hatches[nth / KS_FILLS % OWNER_HATCHES]};
    return owner;
}

/* What stands for an owner in lists: the name where it may be shown, else the mark. */
static void name_owners(ks_facts *facts, bool full_names)
{
    for (int i = 0; i < facts->n_owners; i++) {
        ks_owner *owner = &facts->owners[i];
        owner->words = !*owner->id  ? ks_tr("studio")
                       : full_names ? name_of(facts->plan->order, owner->id)
                                    : owner->mark;
    }
}

/* Owners in the order of the members list, so that a fill stays theirs over all loads. */
void ks_owners_find(ks_facts *facts, bool full_names, ks_arena *arena)
{
    const ks_order *order = facts->plan->order;
    const ks_load *load = facts->load;
    int room = 0;
    for (int i = 0; i < order->n_members; i++)
        (void)note_owner(facts, &room, order->members[i].id, arena);
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_pieces; k++) {
            const ks_placed *placed = &load->levels[i].pieces[k];
            if (placed->role != KS_CONES)
                note_owner(facts, &room, placed->owner ? placed->owner : "", arena)->pieces++;
        }
    mark_owners(facts, arena);
    name_owners(facts, full_names);
}
