#include "draw/sheets/overview.h"
#include "studio/shelf_strength.h"

#include <string.h>

static void caution(ks_flow *flow, int *n, const char *words)
{
    if ((*n)++ == 0)
        ks_flow_title(flow, ks_tr("Take care"), 5);
    ks_flow_need(flow, 5);
    ks_scene_words(flow->scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, flow->y + 3.4}, KS_LEFT,
                   KS_SMALL, "!");
    ks_flow_words(flow, KS_LOOK_TEXT, 4, words);
}

static const char *marks_where(const ks_facts *facts, bool (*holds)(const ks_item *),
                               ks_arena *arena)
{
    const char *marks = "";
    int level = -1; /* of the last mark, which then is not told again */
    for (int i = 0; i < facts->n_items; i++) {
        const ks_item *item = &facts->items[i];
        if (!holds(item))
            continue;
        bool same = item->level == level;
        marks = ks_say_join(arena, same ? ", " : "; ", marks, same ? item->mark : item->full_mark);
        level = item->level;
    }
    return marks;
}

static bool is_on_setter(const ks_item *item)
{
    return item->piece && item->piece->has_setter;
}

/* Those that need the same, in one line. */
static void caution_lifting(ks_flow *flow, int *n)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    const char **who = KS_TAKE(arena, facts->n_items, const char *);
    for (int i = 0; i < facts->n_items; i++)
        who[i] = ks_lifter_words(facts, &facts->items[i], arena);
    for (int i = 0; i < facts->n_items; i++) {
        const char *those = who[i], *marks = "";
        for (int k = i; k < facts->n_items && *those; k++)
            if (strcmp(who[k], those) == 0) {
                marks = ks_say_join(arena, "; ", marks, facts->items[k].full_mark);
                who[k] = "";
            }
        if (*marks)
            caution(flow, n,
                    ks_arena_print(arena, "Heavy, to be lifted in by %s: %s.", those, marks));
    }
}

/* Near what they bear: the doubt about hot strength then is more than what is to spare. */
static void caution_shelves(ks_flow *flow, int *n)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    for (int l = 0; l < facts->n_levels; l++)
        for (int s = 0; s < facts->load->levels[l].n_shelves; s++) {
            double part;
            const char *words = ks_shelf_words(facts, l, s, &part, arena);
            if (part > 1 - ks_shelf_doubt)
                caution(flow, n,
                        ks_arena_print(arena,
                                       "A shelf of %s carries %s that it bears in this firing: "
                                       "take a flat, sound one.",
                                       facts->levels[l].code, words));
        }
}

/* A reader's warning without the file, line and field that it begins with, as a sentence. */
static const char *without_place(const char *warning, ks_arena *arena)
{
    const char *field = strstr(warning, ": ");
    const char *words = field ? strstr(field + 2, ": ") : NULL;
    char *sentence = ks_arena_print(arena, "%s.", words ? words + 2 : warning);
    if (*sentence >= 'a' && *sentence <= 'z')
        *sentence = (char)(*sentence - 'a' + 'A');
    return sentence;
}

static void caution_setters(ks_flow *flow, int *n)
{
    ks_arena *arena = flow->sheets->arena;
    const char *marks = marks_where(flow->facts, is_on_setter, arena);
    if (*marks)
        caution(flow, n,
                ks_arena_print(arena,
                               "On setters, to be bedded first (they have sheets of their own): "
                               "%s.",
                               marks));
}

/* For a class: what is not for children besides the steps that bear the sign. */
static void caution_class(ks_flow *flow, int *n)
{
    ks_arena *arena = flow->sheets->arena;
    const char *named = ks_adult_glazes(flow->facts, true, arena),
               *unknown = ks_adult_glazes(flow->facts, false, arena);
    caution(flow, n,
            ks_arena_print(arena, "%s. Steps without this sign are left to the children.",
                           ks_adult_words(ks_tr("all switches, peephole, lid or door, unloading, "
                                                "and the steps that bear this sign"),
                                          arena)));
    if (*named)
        caution(flow, n,
                ks_arena_print(arena,
                               "Glazes not for children's hands before they are fired: %s. What "
                               "is in them: %s.",
                               named, ks_adult_materials(flow->facts, arena)));
    if (*unknown)
        caution(flow, n,
                ks_arena_print(arena,
                               "Glazes without a recipe, not for them either until someone knows "
                               "what is in them: %s.",
                               unknown));
}

void ks_overview_cautions(ks_flow *flow)
{
    const ks_order *order = flow->facts->plan->order;
    int n = 0;
    if (flow->facts->for_class)
        caution_class(flow, &n);
    caution_lifting(flow, &n);
    caution_shelves(flow, &n);
    caution_setters(flow, &n);
    for (int i = 0; i < order->n_warnings; i++)
        caution(flow, &n, without_place(order->warnings[i], flow->sheets->arena));
}
