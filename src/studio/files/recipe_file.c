#include "studio/files/recipe_file.h"
#include "studio/densities.h"

#include "base/money_text.h"
#include "base/text.h"
#include "studio/names.h"
#include "studio/reading/tags.h"

#include <string.h>

enum { MOST_MATERIALS = 1000, MOST_MARKS = 24 };

static const ks_field clay_fields[] = {
    KS_FIELD(NAME, ks_clay, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("bar"),
    KS_FIELD_KNOWN("shrinkage"),
    KS_FIELD(NUMBER, ks_clay, shrinkage_spread, "spread", .most = 1),
    KS_FIELD_KNOWN("cones"),
    KS_FIELD(NUMBER, ks_clay, density_kg_l, "density", .least = 0.2, .most = 6),
    KS_FIELD(NUMBER, ks_clay, loss_on_ignition, "loss_on_ignition", .most = 0.5),
    KS_FIELD_KNOWN("price_per_kg"),
};

static const ks_field material_fields[] = {
    KS_FIELD(NAME, ks_material, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_material, name, "name", .most = 200),
    KS_FIELD(MONEY, ks_material, price_minor, "price", .required = true, .most = 1e12),
    KS_FIELD(MASS, ks_material, pack_kg, "pack", .required = true, .least = 1e-6, .most = 1e5),
    KS_FIELD(TEXT, ks_material, caution, "caution", .most = 400),
};

static const ks_field glaze_fields[] = {
    KS_FIELD(NAME, ks_glaze, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_glaze, name, "name", .most = 200),
    KS_FIELD_KNOWN("cones"),
    KS_FIELD(TEXT, ks_glaze, atmosphere, "atmosphere", .most = 20),
    KS_FIELD(BOOL, ks_glaze, runny, "runny"),
    KS_FIELD_KNOWN("tags"),
    KS_FIELD_KNOWN("base"),
    KS_FIELD_KNOWN("additions"),
    KS_FIELD(WHOLE, ks_glaze, coats, "coats", .least = 1, .most = 20),
    KS_FIELD(NUMBER, ks_glaze, laid_g_per_m2_coat, "laid_g_per_m2_coat", .least = 1, .most = 5000),
};

static const ks_field length_field = {.kind = KS_FIELD_NUMBER, .least = 1, .most = 1000};
static const ks_field shrinkage_field = {.kind = KS_FIELD_NUMBER, .least = 0, .most = 0.3};
static const ks_field parts_field = {.kind = KS_FIELD_NUMBER, .least = 0, .most = 10000};

/* Common practice, no source. */
static const double usual_spread = 0.15, usual_density = KS_STONEWARE_KG_M3 / 1000.0,
                    usual_loss = 0.07;
static const double usual_laid_g_per_m2_coat = 400;
enum { USUAL_COATS = 2 };

/* "wet", "leather", "dry", "bisque", "fired" or "cone N" in its usual spelling; NULL = none. */
static const char *mark_stage(const char *key, ks_arena *arena)
{
    static const char *const stages[] = {"wet", "leather", "dry", "bisque", "fired"};
    for (size_t i = 0; i < sizeof stages / sizeof stages[0]; i++)
        if (strcmp(key, stages[i]) == 0)
            return stages[i];
    int rank = strncmp(key, "cone ", 5) == 0 ? ks_cone_rank(key + 5) : -1;
    return rank < 0 ? NULL : ks_joined("cone", " ", ks_cone_name(rank), arena);
}

static void read_bar(ks_reading *reading, const ks_json *node, ks_clay *clay)
{
    ks_error *err = reading->fields.err;
    if (node->kind != KS_JSON_OBJECT || node->n < 2 || node->n > MOST_MARKS) {
        ks_json_fail(node, err,
                     "found %s; a bar is {\"wet\": 100, \"dry\": 94, …}: lengths of one "
                     "mark at two stages or more",
                     ks_json_found(node).words);
        return;
    }
    clay->bar = KS_TAKE(reading->fields.arena, node->n, struct ks_mark);
    for (int i = 0; i < node->n; i++) {
        const ks_json *mark = &node->items[i];
        const char *stage = mark_stage(mark->key, reading->fields.arena);
        double length = 100;
        if (!stage)
            ks_json_fail(mark, err,
                         "found \"%.60s\"; a stage is \"wet\", \"leather\", \"dry\", "
                         "\"bisque\", \"fired\" or \"cone 6\"",
                         mark->key);
        ks_field_value(mark, &length_field, &reading->fields, &length);
        clay->bar[clay->n_bar++] = (struct ks_mark){stage ? stage : "wet", length};
    }
}

/* Only a total told: half of it at drying, 0.5 % at bisque, the rest at the glaze cone. */
static void bar_from_total(ks_clay *clay, double shrinkage, ks_arena *arena)
{
    const char *stages[] = {"wet", "dry", "bisque", "fired"};
    double dry = 100 - 50 * shrinkage;
    double lengths[] = {100, dry, dry - fmin(0.5, 50 * shrinkage), 100 - 100 * shrinkage};
    clay->n_bar = 4;
    clay->bar = KS_TAKE(arena, 4, struct ks_mark);
    for (int i = 0; i < 4; i++)
        clay->bar[i] = (struct ks_mark){stages[i], lengths[i]};
}

static void read_shrinkage(ks_reading *reading, const ks_json *node, ks_clay *clay)
{
    const ks_json *bar = ks_json_get(node, "bar"), *total = ks_json_get(node, "shrinkage");
    double shrinkage = 0;
    if (bar && total)
        ks_json_fail(node, reading->fields.err,
                     "found both \"bar\" and \"shrinkage\"; the bar tells more, keep that");
    else if (bar)
        read_bar(reading, bar, clay);
    else if (total &&
             ks_field_value(total, &shrinkage_field, &reading->fields, &shrinkage) == KS_OK)
        bar_from_total(clay, shrinkage, reading->fields.arena);
}

static int minor_digits(const ks_reading *reading)
{
    return reading->fields.minor_digits;
}

static void read_clay_price(ks_reading *reading, const ks_json *node, ks_clay *clay)
{
    if (!node)
        return;
    const char *fault = "a price is a number, such as 1.85";
    if (node->kind == KS_JSON_TEXT || node->kind == KS_JSON_NUMBER)
        fault = ks_money_parse_fine(node->text, minor_digits(reading), &clay->price_minor_per_kg);
    if (!fault && clay->price_minor_per_kg < 0)
        fault = "a price cannot be less than 0";
    if (fault)
        ks_json_fail(node, reading->fields.err, "found %s; %s", ks_json_found(node).words, fault);
}

ks_clay ks_usual_clay(void)
{
    return (ks_clay){.shrinkage_spread = usual_spread,
                     .density_kg_l = usual_density,
                     .loss_on_ignition = usual_loss,
                     .price_minor_per_kg = -1};
}

ks_glaze ks_usual_glaze(void)
{
    return (ks_glaze){
        .atmosphere = "", .coats = USUAL_COATS, .laid_g_per_m2_coat = usual_laid_g_per_m2_coat};
}

static void read_clay(ks_reading *reading, const ks_json *node, void *into)
{
    ks_clay *clay = into;
    *clay = ks_usual_clay();
    KS_FIELDS_READ(node, clay_fields, &reading->fields, clay);
    read_shrinkage(reading, node, clay);
    ks_cones_read(ks_json_get(node, "cones"), &clay->cone_low, &clay->cone_high,
                  reading->fields.err);
    read_clay_price(reading, ks_json_get(node, "price_per_kg"), clay);
}

static void read_material(ks_reading *reading, const ks_json *node, void *into)
{
    ks_material *material = into;
    material->caution = "";
    KS_FIELDS_READ(node, material_fields, &reading->fields, material);
    if (!material->name || !*material->name)
        material->name = material->id;
}

/* The lines of "base" or "additions" after those already in the glaze. */
static void read_recipe(ks_reading *reading, const ks_json *node, bool addition, ks_glaze *glaze)
{
    const ks_order *order = reading->order;
    ks_id_list materials = KS_ID_LIST("material", order->materials, order->n_materials);
    if (!node)
        return;
    if (node->kind != KS_JSON_OBJECT || node->n > 100) {
        ks_json_fail(node, reading->fields.err,
                     "found %s; a recipe is {\"feldspar\": 40, …}, at "
                     "most 100 lines",
                     ks_json_found(node).words);
        return;
    }
    struct ks_recipe_line *lines =
        KS_TAKE(reading->fields.arena, glaze->n_lines + node->n, struct ks_recipe_line);
    if (glaze->n_lines > 0)
        memcpy(lines, glaze->lines, (size_t)glaze->n_lines * sizeof *lines);
    for (int i = 0; i < node->n; i++) {
        struct ks_recipe_line line = {.addition = addition};
        line.material = ks_id_refer_key(&node->items[i], &materials, reading->fields.err);
        ks_field_value(&node->items[i], &parts_field, &reading->fields, &line.parts);
        lines[glaze->n_lines++] = line;
    }
    glaze->lines = lines;
}

static void read_glaze(ks_reading *reading, const ks_json *node, void *into)
{
    ks_glaze *glaze = into;
    *glaze = ks_usual_glaze();
    KS_FIELDS_READ(node, glaze_fields, &reading->fields, glaze);
    if (!glaze->name || !*glaze->name)
        glaze->name = glaze->id;
    ks_word_check(node, "atmosphere", KS_ATMOSPHERE_WORDS, reading->fields.err);
    ks_cones_read(ks_json_get(node, "cones"), &glaze->cone_low, &glaze->cone_high,
                  reading->fields.err);
    glaze->tags = ks_tags_read(reading, ks_json_get(node, "tags"));
    read_recipe(reading, ks_json_get(node, "base"), false, glaze);
    if (ks_json_get(node, "additions") && glaze->n_lines == 0 && node->kind == KS_JSON_OBJECT &&
        !ks_json_get(node, "base"))
        ks_json_lacks(node, "base", reading->fields.err, "additions are per cent of a base");
    read_recipe(reading, ks_json_get(node, "additions"), true, glaze);
}

void ks_recipes_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    order->clays = ks_named_list_read(reading, ks_json_get(node, "clays"), "clay", KS_MOST_CLAYS,
                                      sizeof(ks_clay), read_clay, &order->n_clays);
    order->materials =
        ks_named_list_read(reading, ks_json_get(node, "materials"), "material", MOST_MATERIALS,
                           sizeof(ks_material), read_material, &order->n_materials);
    order->glazes =
        ks_named_list_read(reading, ks_json_get(node, "glazes"), "glaze", KS_MOST_GLAZES,
                           sizeof(ks_glaze), read_glaze, &order->n_glazes);
    reading->told_clays = reading->clays_room = order->n_clays;
    reading->told_glazes = reading->glazes_room = order->n_glazes;
}

/* As text with fixed decimals, so that reading it again gives the same. */
static void write_fine_money(ks_json_out *out, const char *key, double minor, int digits)
{
    double major = minor;
    for (int i = 0; i < digits; i++)
        major /= 10;
    if (minor >= 0)
        ks_out_text(out, key, ks_number_fixed(major, digits + 4, out->text.arena));
}

static void write_clay(ks_json_out *out, const ks_clay *clay, int digits)
{
    ks_out_object(out, NULL);
    KS_FIELDS_WRITE(out, clay_fields, digits, clay);
    if (clay->n_bar > 0) {
        ks_out_object_flat(out, "bar");
        for (int i = 0; i < clay->n_bar; i++)
            ks_out_number(out, clay->bar[i].stage, clay->bar[i].length);
        ks_out_end(out);
    }
    ks_cones_write(out, "cones", clay->cone_low, clay->cone_high);
    write_fine_money(out, "price_per_kg", clay->price_minor_per_kg, digits);
    ks_out_end(out);
}

static void write_recipe(ks_json_out *out, const char *key, const ks_order *order,
                         const ks_glaze *glaze, bool additions)
{
    int n = 0;
    for (int i = 0; i < glaze->n_lines; i++)
        n += glaze->lines[i].addition == additions;
    if (n == 0)
        return;
    ks_out_object_flat(out, key);
    for (int i = 0; i < glaze->n_lines; i++)
        if (glaze->lines[i].addition == additions)
            ks_out_number(out, order->materials[glaze->lines[i].material].id,
                          glaze->lines[i].parts);
    ks_out_end(out);
}

void ks_recipes_write(ks_json_out *out, const ks_order *order)
{
    int digits = ks_currency_digits(order->currency);
    ks_out_array(out, "clays");
    for (int i = 0; i < order->n_clays; i++)
        write_clay(out, &order->clays[i], digits);
    ks_out_end(out);
    ks_out_array(out, "materials");
    for (int i = 0; i < order->n_materials; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, material_fields, digits, &order->materials[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_array(out, "glazes");
    for (int i = 0; i < order->n_glazes; i++) {
        const ks_glaze *glaze = &order->glazes[i];
        ks_out_object(out, NULL);
        KS_FIELDS_WRITE(out, glaze_fields, digits, glaze);
        ks_cones_write(out, "cones", glaze->cone_low, glaze->cone_high);
        ks_tags_write(out, "tags", order, glaze->tags);
        write_recipe(out, "base", order, glaze, false);
        write_recipe(out, "additions", order, glaze, true);
        ks_out_end(out);
    }
    ks_out_end(out);
}
