/* What a class leaves to its adult. What is heavy, high and deep for a child is common practice, no
 * source: over 2 kg, posts over 150 mm, more than 400 mm down from the rim or in from the door. */
#include "draw/facts/facts.h"

#include <math.h>

static const double heavy_kg = 2, tall_mm = 150, deep_mm = 400;

const char *ks_adult_words(const char *why, ks_arena *arena)
{
    return *why ? ks_arena_print(arena, "▲ ADULT: %s", why) : "";
}

const char *ks_adult_shelf(void)
{
    return ks_tr("shelves");
}

const char *ks_adult_posts(const ks_facts *facts, const bool *chosen)
{
    for (int i = 0; i < facts->load->n_posts; i++)
        if (chosen[i] && facts->load->posts[i].to_mm - facts->load->posts[i].from_mm > tall_mm)
            return ks_tr("tall posts");
    return "";
}

static double rim_mm(const ks_load *load)
{
    double rim = 0;
    for (int i = 0; i < load->n_parts; i++)
        rim = fmax(rim, load->parts[i].to_mm);
    return rim;
}

bool ks_adult_level(const ks_facts *facts, const ks_level_facts *level)
{
    return !facts->from_front && rim_mm(facts->load) - level->level->z_mm > deep_mm;
}

static bool is_deep(const ks_facts *facts, const ks_item *item)
{
    return facts->from_front ? ks_item_centre(item->placed).y - facts->extent.y0 > deep_mm
                             : ks_adult_level(facts, &facts->levels[item->level]);
}

const char *ks_adult_piece(const ks_facts *facts, const ks_item *item, bool level_told,
                           ks_arena *arena)
{
    bool heavy = item->piece && item->piece->mass_kg > heavy_kg;
    bool deep = is_deep(facts, item) && !(level_told && !facts->from_front);
    const char *mass = ks_say_mass(facts->display, heavy_kg, arena);
    return ks_say_join(arena, "; ", heavy ? ks_arena_print(arena, "over %s", mass) : "",
                       deep ? ks_tr("deep reach") : "");
}

static bool is_in_load(const ks_facts *facts, int glaze)
{
    for (int i = 0; i < facts->n_items; i++)
        for (int k = 0; facts->items[i].piece && k < facts->items[i].piece->n_glazes; k++)
            if (facts->items[i].piece->glazes[k] == glaze)
                return true;
    return false;
}

static const char *named(const char *name, const char *id)
{
    return name && *name ? name : id;
}

/* Whether a glaze of the load holds it. */
static bool is_used(const ks_facts *facts, int material)
{
    const ks_order *order = facts->plan->order;
    for (int i = 0; i < order->n_glazes; i++)
        for (int k = 0; k < order->glazes[i].n_lines; k++)
            if (order->glazes[i].lines[k].material == material && is_in_load(facts, i))
                return true;
    return false;
}

static bool has_caution(const ks_order *order, const ks_glaze *glaze)
{
    for (int i = 0; i < glaze->n_lines; i++) {
        int at = glaze->lines[i].material;
        if (at >= 0 && at < order->n_materials && *order->materials[at].caution)
            return true;
    }
    return false;
}

const char *ks_adult_glazes(const ks_facts *facts, bool with_recipe, ks_arena *arena)
{
    const ks_order *order = facts->plan->order;
    const char *words = "";
    for (int i = 0; i < order->n_glazes; i++) {
        const ks_glaze *glaze = &order->glazes[i];
        bool told = with_recipe ? has_caution(order, glaze) : glaze->n_lines == 0;
        if (told && is_in_load(facts, i))
            words = ks_say_join(arena, ", ", words, named(glaze->name, glaze->id));
    }
    return words;
}

const char *ks_adult_materials(const ks_facts *facts, ks_arena *arena)
{
    const ks_order *order = facts->plan->order;
    const char *words = "";
    for (int i = 0; i < order->n_materials; i++) {
        const ks_material *material = &order->materials[i];
        if (*material->caution && is_used(facts, i))
            words = ks_say_join(
                arena, "; ", words,
                ks_say_join(arena, ": ", named(material->name, material->id), material->caution));
    }
    return words;
}
