#include "studio/files/named_only.h"

#include "base/fold.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/files/recipe_file.h"

#include <string.h>

/* A letter or two away from one that the order describes: a slip. */
static bool is_slip(const ks_id_list *told, const char *id)
{
    int most = strlen(id) >= 6 ? 2 : 1;
    for (int i = 0; i < told->n; i++) {
        const char *own =
            *(const char *const *)((const char *)told->first + (size_t)i * told->size);
        if (own && ks_edit_distance(own, id) <= most)
            return true;
    }
    return false;
}

/* Whether this name may be taken as all there is to tell. */
static bool is_named_only(const ks_json *node, const ks_id_list *told, int n, int most)
{
    return node->from_cell && node->kind == KS_JSON_TEXT && *node->text && n < most &&
           !is_slip(told, node->text);
}

int ks_glaze_refer(ks_reading *reading, const ks_json *node)
{
    ks_order *order = reading->order;
    ks_arena *arena = reading->fields.arena;
    ks_id_list list = KS_ID_LIST("glaze", order->glazes, order->n_glazes), told = list;
    told.n = reading->told_glazes;
    if (node->kind != KS_JSON_TEXT || ks_id_place_alike(&list, node->text) >= 0 ||
        !is_named_only(node, &told, order->n_glazes, KS_MOST_GLAZES))
        return ks_id_refer(node, &list, reading->fields.err);
    order->glazes = KS_GROW(arena, order->glazes, order->n_glazes, &reading->glazes_room, ks_glaze);
    ks_glaze glaze = ks_usual_glaze();
    glaze.id = glaze.name = ks_text_compose(node->text, arena);
    order->glazes[order->n_glazes] = glaze;
    return order->n_glazes++;
}

int ks_clay_refer(ks_reading *reading, const ks_json *node)
{
    ks_order *order = reading->order;
    ks_arena *arena = reading->fields.arena;
    ks_id_list list = KS_ID_LIST("clay", order->clays, order->n_clays), told = list;
    told.n = reading->told_clays;
    if (node->kind != KS_JSON_TEXT || ks_id_place_alike(&list, node->text) >= 0 ||
        !is_named_only(node, &told, order->n_clays, KS_MOST_CLAYS))
        return ks_id_refer(node, &list, reading->fields.err);
    order->clays = KS_GROW(arena, order->clays, order->n_clays, &reading->clays_room, ks_clay);
    ks_clay clay = ks_usual_clay();
    clay.id = ks_text_compose(node->text, arena);
    order->clays[order->n_clays] = clay;
    return order->n_clays++;
}

static void tell_names(ks_reading *reading, const ks_json *node, const ks_id_list *list, int from,
                       const char *taken_as)
{
    ks_text names = {.arena = reading->fields.arena};
    for (int i = from; i < list->n; i++)
        ks_text_print(&names, "%s\"%.60s\"", i > from ? ", " : "",
                      *(const char *const *)((const char *)list->first + (size_t)i * list->size));
    if (list->n > from)
        ks_warn(reading, node,
                ks_tr_count(
                    list->n - from,
                    "the %s %s is only named: taken %s; describe it under \"%ss\" to say more",
                    "the %ss %s are only named: taken %s; describe them under \"%ss\" to say more"),
                list->noun, ks_text_end(&names), taken_as, list->noun);
}

void ks_named_only_tell(ks_reading *reading, const ks_json *node)
{
    const ks_order *order = reading->order;
    ks_id_list glazes = KS_ID_LIST("glaze", order->glazes, order->n_glazes);
    ks_id_list clays = KS_ID_LIST("clay", order->clays, order->n_clays);
    const ks_glaze usual = ks_usual_glaze();
    const char *glaze = ks_arena_print(
        reading->fields.arena,
        "to fire at any cone and not to run, laid on in %d coats of %.0f g/m2, and nothing to keep "
        "apart from",
        usual.coats, usual.laid_g_per_m2_coat);
    tell_names(reading, node, &glazes, reading->told_glazes, glaze);
    tell_names(reading, node, &clays, reading->told_clays,
               "to fire at any cone and to shrink by an unknown amount");
}
