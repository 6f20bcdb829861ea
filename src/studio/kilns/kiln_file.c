#include "studio/kilns/kiln_file.h"

#include "base/file.h"
#include "studio/names.h"

static const ks_field kiln_fields[] = {
    KS_FIELD_KNOWN("format"),
    KS_FIELD_KNOWN("units"),
    KS_FIELD(NAME, ks_kiln, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_kiln, name, "name", .most = 200),
    KS_FIELD(TEXT, ks_kiln, note, "note", .most = 4096),
    KS_FIELD(WORD, ks_kiln, loading, "loading", .required = true, .words = KS_LOADING_WORDS),
    KS_FIELD_KNOWN("chamber"),
    KS_FIELD_KNOWN("opening"),
    KS_FIELD(LENGTH, ks_kiln, floor_above_ground_mm, "floor_above_ground", .most = 3000),
    KS_FIELD(LENGTH, ks_kiln, rim_above_ground_mm, "rim_above_ground", .most = 6000),
    KS_FIELD_KNOWN("clearances"),
    KS_FIELD(LENGTH, ks_kiln, first_gap_mm, "first_gap", .most = 2000),
    KS_FIELD(LENGTH, ks_kiln, top_gap_mm, "top_gap", .most = 2000),
    KS_FIELD_KNOWN("keep_outs"),
    KS_FIELD(DATE, ks_kiln, stock_day, "stock_date"),
    KS_FIELD_KNOWN("shelves"),
    KS_FIELD_KNOWN("posts"),
    KS_FIELD_KNOWN("bays"),
    KS_FIELD_KNOWN("arrangements"),
    KS_FIELD(LENGTH, ks_kiln, floor_post_least_mm, "floor_posts_at_least", .most = 1000),
    KS_FIELD(MASS, ks_kiln, mass_limit_kg, "mass_limit", .most = 10000),
    KS_FIELD_KNOWN("heat"),
    KS_FIELD_KNOWN("lining"),
    KS_FIELD(TEXT, ks_kiln, defaults, "defaults", .most = 1000),
};

static const ks_field opening_fields[] = {
    KS_FIELD(LENGTH, ks_kiln, opening_width_mm, "width", .required = true, .least = 50,
             .most = 5000),
    KS_FIELD(LENGTH, ks_kiln, opening_height_mm, "height", .required = true, .least = 50,
             .most = 5000),
    KS_FIELD(LENGTH, ks_kiln, opening_sill_mm, "sill", .least = -500, .most = 2000),
};

#define CLEARANCE(name, usual_mm, what) KS_FIELD(LENGTH, ks_clearance, name, #name, .most = 1000),
static const ks_field clearance_fields[] = {KS_CLEARANCES(CLEARANCE)};

static const ks_field keep_out_fields[] = {
    KS_FIELD(NAME, ks_keep_out, kind, "kind", .required = true, .least = 1, .most = 60),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(LENGTH, ks_keep_out, from_mm, "from", .most = 5000),
    KS_FIELD(LENGTH, ks_keep_out, to_mm, "to", .required = true, .most = 5000),
    KS_FIELD(LENGTH, ks_keep_out, clearance_mm, "clearance", .most = 1000),
};

void ks_clearance_read(ks_reading *reading, const ks_json *node, ks_clearance *clearance)
{
    if (node)
        KS_FIELDS_READ(node, clearance_fields, &reading->fields, clearance);
}

void ks_clearance_write(ks_json_out *out, const char *key, const ks_clearance *clearance)
{
    ks_out_object_flat(out, key);
    KS_FIELDS_WRITE(out, clearance_fields, 0, clearance);
    ks_out_end(out);
}

void ks_keep_out_read(ks_reading *reading, const ks_json *node, void *into)
{
    ks_keep_out *keep_out = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    KS_FIELDS_READ(node, keep_out_fields, &reading->fields, keep_out);
    const ks_json *outline = ks_json_get(node, "outline");
    if (outline)
        ks_outline_read(outline, true, &reading->fields, &keep_out->outline);
    else if (node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "outline", err, "what is kept free, seen from above");
    if (err->count == before && keep_out->to_mm <= keep_out->from_mm)
        ks_json_fail(node, err, "found it from %g to %g mm; \"to\" must be above \"from\"",
                     keep_out->from_mm, keep_out->to_mm);
}

void ks_keep_outs_write(ks_json_out *out, const char *key, int n, const ks_keep_out *keep_outs)
{
    ks_out_array(out, key);
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "kind", keep_outs[i].kind);
        ks_outline_write(out, "outline", &keep_outs[i].outline);
        ks_length_write(out, "from", keep_outs[i].from_mm);
        ks_length_write(out, "to", keep_outs[i].to_mm);
        ks_length_write(out, "clearance", keep_outs[i].clearance_mm);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void read_opening(ks_reading *reading, const ks_json *kiln_node, ks_kiln *kiln)
{
    const ks_json *node = ks_json_get(kiln_node, "opening");
    if (node)
        KS_FIELDS_READ(node, opening_fields, &reading->fields, kiln);
    else if (kiln->loading == KS_FRONT_LOADER && ks_json_get(kiln_node, "loading"))
        ks_json_lacks(kiln_node, "opening", reading->fields.err,
                      "a front loader's doorway: {\"width\": …, \"height\": …, \"sill\": …}");
}

static void fill_heights(ks_kiln *kiln, ks_arena *arena)
{
    if (!kiln->name)
        kiln->name = kiln->id;
    ks_default_take(&kiln->floor_above_ground_mm, 400, &kiln->defaults, "floor above ground",
                    arena);
    if (isnan(kiln->rim_above_ground_mm))
        kiln->rim_above_ground_mm = kiln->floor_above_ground_mm + kiln->height_mm;
}

void ks_kiln_read_node(ks_reading *reading, const ks_json *node, ks_kiln *kiln)
{
    ks_units kept = reading->fields.units;
    *kiln = (ks_kiln){.note = "",
                      .defaults = "",
                      .stock_day = KS_NO_DAY,
                      .clearance = ks_clearance_usual(),
                      .floor_post_least_mm = 13,
                      .floor_above_ground_mm = KS_NOT_TOLD,
                      .rim_above_ground_mm = KS_NOT_TOLD};
    if (ks_json_get(node, "units"))
        ks_units_read(node, &reading->fields.units, reading->fields.err);
    KS_FIELDS_READ(node, kiln_fields, &reading->fields, kiln);
    if (node->kind == KS_JSON_OBJECT) {
        ks_chamber_read(reading, node, kiln);
        read_opening(reading, node, kiln);
        ks_clearance_read(reading, ks_json_get(node, "clearances"), &kiln->clearance);
        kiln->keep_outs = ks_list_read(reading, ks_json_get(node, "keep_outs"), 100,
                                       sizeof(ks_keep_out), ks_keep_out_read, &kiln->n_keep_outs);
        ks_stock_read(reading, node, kiln);
        ks_bays_read(reading, node, kiln);
        fill_heights(kiln, reading->fields.arena);
        ks_heat_read(reading, node, kiln);
    }
    reading->fields.units = kept;
}

void ks_kiln_write(ks_json_out *out, const char *key, const ks_kiln *kiln)
{
    ks_out_object(out, key);
    KS_FIELDS_WRITE(out, kiln_fields, 0, kiln);
    ks_chamber_write(out, "chamber", kiln->height_mm, kiln->n_parts, kiln->parts);
    if (kiln->loading == KS_FRONT_LOADER || kiln->opening_width_mm > 0) {
        ks_out_object_flat(out, "opening");
        KS_FIELDS_WRITE(out, opening_fields, 0, kiln);
        ks_out_end(out);
    }
    ks_clearance_write(out, "clearances", &kiln->clearance);
    ks_keep_outs_write(out, "keep_outs", kiln->n_keep_outs, kiln->keep_outs);
    ks_stock_write(out, kiln);
    ks_bays_write(out, kiln);
    ks_heat_write(out, kiln);
    ks_out_end(out);
}

ks_status ks_kiln_read(const char *path, ks_arena *arena, ks_kiln *out, ks_error *err)
{
    ks_error own = {0};
    ks_reading reading = {.fields = {.arena = arena, .err = err ? err : &own},
                          .folder = ks_path_folder(path, arena)};
    const ks_json *file;
    ks_status status = ks_json_read(path, arena, &file, err);
    if (status != KS_OK)
        return status;
    status = ks_format_check(file, "kilnstow-kiln/1", err);
    if (status != KS_OK)
        return status;
    int before = reading.fields.err->count;
    ks_kiln_read_node(&reading, file, out);
    return reading.fields.err->count > before ? KS_BAD_INPUT : KS_OK;
}
