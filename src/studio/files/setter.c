#include "studio/densities.h"
#include "studio/names.h"
#include "studio/parts.h"
#include "studio/files/piece_file.h"

#include <string.h>

#include <math.h>

/* What a setter is like when the order does not tell; common practice, no source. */
static const struct {
    double thickness, margin, bed, spread;
} usual[] = {
    [KS_PART_SLAB] = {10, 15, 3, 2},
    [KS_PART_COOKIE] = {8, 10, 0, 0},
    [KS_PART_STILT] = {12, 0, 0, 0},
    [KS_PART_PROP] = {12, 0, 0, 0},
};

/* Slab and form part by the difference of their shrinkage; the margin must hold the feet when both
 * have shrunk, with this much to spare. */
static const double margin_spare_mm = 5;

static double fill(double told, double usual_value)
{
    return isnan(told) ? usual_value : told;
}

/* A slab stands in the kiln through the same firings as its form, glaze aside. */
static ks_stage stage_with_form(ks_stage form)
{
    return form == KS_GLAZED ? KS_BISQUE : form;
}

void ks_setter_staged(ks_setter *setter, const ks_piece *piece)
{
    if (!setter->stage_told)
        setter->stage = stage_with_form(piece->stage);
}

void ks_setter_fill(ks_setter *setter, double needed_margin_mm)
{
    double least = usual[setter->kind].margin;
    if (needed_margin_mm > 0)
        least = fmax(least, needed_margin_mm + margin_spare_mm);
    setter->thickness_mm = fill(setter->thickness_mm, usual[setter->kind].thickness);
    setter->margin_mm = setter->outline_told ? 0 : fill(setter->margin_mm, ceil(least));
    setter->bed_under_mm = fill(setter->bed_under_mm, usual[setter->kind].bed);
    setter->bed_over_mm = fill(setter->bed_over_mm, usual[setter->kind].bed);
    setter->bed_spread_mm = fill(setter->bed_spread_mm, usual[setter->kind].spread);
}

/* A bed as thick as it may turn out. */
static double thickest(double bed_mm, double spread_mm)
{
    return bed_mm > 0 ? bed_mm + spread_mm : 0;
}

static double add_layer(ks_part_list *list, ks_part_kind kind, double from, double thickness,
                        ks_outline outline)
{
    if (thickness > 0)
        ks_part_add(list, kind, from, from + thickness, outline);
    return from + thickness;
}

void ks_parts_set(ks_part_list *list, const ks_setter *setter)
{
    ks_outline feet = ks_parts_feet(list->at, list->n, false, list->arena);
    ks_outline body = setter->outline_told ? setter->outline : feet;
    body.round += setter->margin_mm;
    ks_part_list built = {.arena = list->arena};
    double top = add_layer(&built, KS_PART_GROG, 0,
                           thickest(setter->bed_under_mm, setter->bed_spread_mm), body);
    top = add_layer(&built, setter->kind, top, setter->thickness_mm, body);
    top = add_layer(&built, KS_PART_GROG, top, thickest(setter->bed_over_mm, setter->bed_spread_mm),
                    feet);
    for (int i = 0; i < list->n; i++)
        ks_part_add(&built, list->at[i].kind, list->at[i].from_mm + top, list->at[i].to_mm + top,
                    list->at[i].outline);
    *list = built;
}

double ks_setter_mass_kg(const ks_piece *piece, double density_kg_l)
{
    double kg = 0;
    bool body_met = false;
    for (int i = 0; i < piece->n_parts; i++) {
        const ks_part *part = &piece->parts[i];
        double litres = ks_outline_area(&part->outline) / 1e6;
        if (part->kind == KS_PART_GROG)
            kg += litres * (KS_GROG_KG_M3 / 1000.0) *
                  (body_met ? piece->setter.bed_over_mm : piece->setter.bed_under_mm);
        else if (ks_part_of_setter(part->kind)) {
            kg += litres * density_kg_l * (part->to_mm - part->from_mm);
            body_met = true;
        }
    }
    return kg;
}

static const ks_field setter_fields[] = {
    KS_FIELD_KNOWN("kind"),
    KS_FIELD_KNOWN("clay"),
    KS_FIELD_KNOWN("stage"),
    KS_FIELD(LENGTH, ks_setter, thickness_mm, "thickness", .least = 1, .most = 500),
    KS_FIELD(LENGTH, ks_setter, margin_mm, "margin", .most = 1000),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(LENGTH, ks_setter, bed_under_mm, "bed_under", .most = 200),
    KS_FIELD(LENGTH, ks_setter, bed_over_mm, "bed_over", .most = 200),
    KS_FIELD(LENGTH, ks_setter, bed_spread_mm, "bed_spread", .most = 50),
    KS_FIELD(TEXT, ks_setter, bed_material, "bed_material", .most = 60),
    KS_FIELD(LENGTH, ks_setter, bed_grain_mm, "grain", .most = 20),
    KS_FIELD(MASS, ks_setter, mass_kg, "mass", .most = 500),
};

static const ks_part_kind kinds[] = {KS_PART_SLAB, KS_PART_COOKIE, KS_PART_STILT, KS_PART_PROP};
static const ks_field kind_field = {.kind = KS_FIELD_WORD, .words = "slab|cookie|stilt|prop"};
static const ks_field stage_field = {.kind = KS_FIELD_WORD, .words = KS_STAGE_WORDS};

static void read_setter_stage(ks_reading *reading, const ks_json *node, ks_setter *setter)
{
    int stage = KS_BISQUE;
    ks_error *err = reading->fields.err;
    bool wet = node->kind == KS_JSON_TEXT &&
               (strcmp(node->text, "wet") == 0 || strcmp(node->text, "leather-hard") == 0);
    setter->stage_told = true;
    if (wet)
        ks_json_fail(node, err,
                     "found %s; a wet slab bursts in the firing: let it dry, or use one "
                     "that is \"bisque\"",
                     ks_json_found(node).words);
    else if (ks_field_value(node, &stage_field, &reading->fields, &stage) == KS_OK &&
             stage == KS_DRY)
        ks_warn(reading, node, "the slab goes in raw: the firing needs a drying schedule");
    setter->stage = (ks_stage)stage;
}

void ks_setter_read(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    ks_setter *setter = &piece->setter;
    ks_error *err = reading->fields.err;
    int kind = 0;
    *setter = (ks_setter){.kind = KS_PART_SLAB,
                          .clay = -1,
                          .thickness_mm = KS_NOT_TOLD,
                          .margin_mm = KS_NOT_TOLD,
                          .bed_under_mm = KS_NOT_TOLD,
                          .bed_over_mm = KS_NOT_TOLD,
                          .bed_spread_mm = KS_NOT_TOLD,
                          .bed_material = "grog",
                          .mass_kg = KS_NOT_TOLD};
    piece->has_setter = true;
    KS_FIELDS_READ(node, setter_fields, &reading->fields, setter);
    if (node->kind != KS_JSON_OBJECT)
        return;
    const ks_json *outline = ks_json_get(node, "outline"), *clay = ks_json_get(node, "clay");
    ks_id_list clays = KS_ID_LIST("clay", reading->order->clays, reading->order->n_clays);
    if (ks_json_get(node, "kind") &&
        ks_field_value(ks_json_get(node, "kind"), &kind_field, &reading->fields, &kind) == KS_OK)
        setter->kind = kinds[kind];
    if (clay)
        setter->clay = ks_id_refer(clay, &clays, err);
    if (ks_json_get(node, "stage"))
        read_setter_stage(reading, ks_json_get(node, "stage"), setter);
    if (outline && ks_json_get(node, "margin"))
        ks_json_fail(node, err,
                     "found both \"outline\" and \"margin\"; one of them tells its size");
    if (outline)
        setter->outline_told = ks_outline_read(outline, true, &reading->fields, &setter->outline);
}

void ks_setter_write(ks_json_out *out, const ks_order *order, const ks_setter *setter)
{
    ks_out_object(out, "setter");
    ks_out_text(out, "kind", ks_part_kind_name(setter->kind));
    if (setter->clay >= 0)
        ks_out_text(out, "clay", order->clays[setter->clay].id);
    ks_setter written = *setter;
    if (setter->outline_told) {
        written.margin_mm = KS_NOT_TOLD;
        ks_outline_write(out, "outline", &setter->outline);
    }
    if (setter->stage_told)
        ks_out_text(out, "stage", ks_stage_name(setter->stage));
    KS_FIELDS_WRITE(out, setter_fields, 0, &written);
    ks_out_end(out);
}
