#include "studio/kilns/kiln_file.h"

#include "studio/shelf_material.h"

#include "base/text.h"

#include <string.h>

static const ks_field shelf_fields[] = {
    KS_FIELD(NAME, ks_shelf_kind, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_shelf_kind, material, "material", .words = KS_SHELF_MATERIAL_WORDS),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(LENGTH, ks_shelf_kind, thickness_mm, "thickness", .required = true, .least = 3,
             .most = 200),
    KS_FIELD(WHOLE, ks_shelf_kind, count, "count", .required = true, .least = 0,
             .most = KS_MOST_SHELVES),
    KS_FIELD(MASS, ks_shelf_kind, mass_kg, "mass", .least = 0.01, .most = 500),
    KS_FIELD(MASS, ks_shelf_kind, safe_load_kg, "safe_load", .most = 5000),
    KS_FIELD(TEXT, ks_shelf_kind, condition, "condition", .most = 200),
};

static const ks_field post_fields[] = {
    KS_FIELD(TEXT, ks_post_kind, id, "id", .most = 200),
    KS_FIELD(LENGTH, ks_post_kind, height_mm, "height", .required = true, .least = 3, .most = 2000),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(WHOLE, ks_post_kind, count, "count", .required = true, .least = 0, .most = 10000),
    KS_FIELD(MASS, ks_post_kind, mass_kg, "mass", .least = 0.001, .most = 100),
};

/* In whole milligrams. */
static double block_kg(double area_mm2, double height_mm, double density_kg_m3)
{
    return round(area_mm2 * height_mm * density_kg_m3 / 1e3) / 1e6;
}

static void read_shelf(ks_reading *reading, const ks_json *node, void *into)
{
    ks_shelf_kind *shelf = into;
    ks_error *err = reading->fields.err;
    *shelf = (ks_shelf_kind){.material = "cordierite", .condition = "", .mass_kg = KS_NOT_TOLD};
    KS_FIELDS_READ(node, shelf_fields, &reading->fields, shelf);
    if (node->kind != KS_JSON_OBJECT)
        return;
    const ks_json *outline = ks_json_get(node, "outline");
    const ks_shelf_material *material = ks_shelf_material_find(shelf->material);
    if (!outline)
        ks_json_lacks(node, "outline", err, "the shelf seen from above");
    else if (ks_outline_read(outline, false, &reading->fields, &shelf->outline) &&
             isnan(shelf->mass_kg))
        shelf->mass_kg = block_kg(ks_outline_area(&shelf->outline), shelf->thickness_mm,
                                  material->density_kg_m3);
}

static void read_post(ks_reading *reading, const ks_json *node, void *into)
{
    ks_post_kind *post = into;
    *post = (ks_post_kind){.mass_kg = KS_NOT_TOLD};
    KS_FIELDS_READ(node, post_fields, &reading->fields, post);
    if (node->kind != KS_JSON_OBJECT)
        return;
    const ks_json *outline = ks_json_get(node, "outline");
    if (!post->id || !*post->id)
        post->id = ks_arena_print(reading->fields.arena, "post-%s",
                                  ks_number_print(post->height_mm, reading->fields.arena));
    if (!outline)
        ks_json_lacks(node, "outline", reading->fields.err, "the post seen from above");
    else if (ks_outline_read(outline, true, &reading->fields, &post->outline) &&
             isnan(post->mass_kg))
        post->mass_kg =
            block_kg(ks_outline_area(&post->outline), post->height_mm, KS_CORDIERITE_KG_M3);
}

void ks_stock_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln)
{
    kiln->shelves =
        ks_named_list_read(reading, ks_json_get(node, "shelves"), "kind of shelf", KS_MOST_SHELVES,
                           sizeof(ks_shelf_kind), read_shelf, &kiln->n_shelves);
    kiln->posts =
        ks_named_list_read(reading, ks_json_get(node, "posts"), "kind of post", KS_MOST_SHELVES,
                           sizeof(ks_post_kind), read_post, &kiln->n_posts);
}

void ks_stock_write(ks_json_out *out, const ks_kiln *kiln)
{
    ks_out_array(out, "shelves");
    for (int i = 0; i < kiln->n_shelves; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, shelf_fields, 0, &kiln->shelves[i]);
        ks_outline_write(out, "outline", &kiln->shelves[i].outline);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_array(out, "posts");
    for (int i = 0; i < kiln->n_posts; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, post_fields, 0, &kiln->posts[i]);
        ks_outline_write(out, "outline", &kiln->posts[i].outline);
        ks_out_end(out);
    }
    ks_out_end(out);
}
