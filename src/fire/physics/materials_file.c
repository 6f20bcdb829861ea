#include "kilnstow/materials.h"

#include "base/data/fields.h"

#include <math.h>
#include <string.h>

enum { MATERIALS_MOST = 500, POINTS_MOST = 40 };

#define USES "lining|furniture|ware|metal"

static const ks_field row_fields[] = {
    KS_FIELD(NAME, ks_fire_material, name, "name", .required = true, .least = 1, .most = 60),
    KS_FIELD(WORD, ks_fire_material, use, "use", .words = USES),
    KS_FIELD_KNOWN("conductivity"),
    KS_FIELD_KNOWN("heat"),
    KS_FIELD(NUMBER, ks_fire_material, density_kg_m3, "density_kg_m3", .required = true,
             .least = 10, .most = 20000),
    KS_FIELD(TEXT, ks_fire_material, density_source, "density_source", .most = 300),
    KS_FIELD(NUMBER, ks_fire_material, emissivity, "emissivity", .least = 0.01, .most = 1),
    KS_FIELD(TEXT, ks_fire_material, emissivity_source, "emissivity_source", .most = 300),
    KS_FIELD(TEMP, ks_fire_material, limit_c, "limit", .least = 0, .most = 3000),
    KS_FIELD(TEXT, ks_fire_material, limit_source, "limit_source", .most = 300),
};

static const ks_field property_fields[] = {
    KS_FIELD_KNOWN("points"),
    KS_FIELD(TEXT, ks_property, source, "source", .required = true, .least = 1, .most = 300),
};

static const ks_field temp_field = {.key = "", .kind = KS_FIELD_TEMP, .least = -50, .most = 3000};

/* One [temperature, value]; temperatures must rise. */
static ks_status read_point(const ks_json *node, const ks_field *value,
                            const ks_field_reader *reader, const ks_property_point *before,
                            ks_property_point *out)
{
    ks_status status = ks_array_check(node, 2, 2, reader->err);
    if (!status)
        status = ks_field_value(&node->items[0], &temp_field, reader, &out->temp_c);
    if (!status)
        status = ks_field_value(&node->items[1], value, reader, &out->value);
    if (!status && before && out->temp_c < before->temp_c + 1)
        status = ks_json_fail(node, reader->err,
                              "must be at least 1 C above %g C, the one before, not %g C",
                              before->temp_c, out->temp_c);
    return status;
}

static ks_status read_property(const ks_json *node, double least, double most,
                               const ks_field_reader *reader, ks_property *out)
{
    ks_field value = {.key = "", .kind = KS_FIELD_NUMBER, .least = least, .most = most};
    ks_status status = KS_FIELDS_READ(node, property_fields, reader, out);
    const ks_json *points = ks_json_get(node, "points");
    if (!status && !points)
        status =
            ks_json_lacks(node, "points", reader->err, "it must be [[temperature, value], ...]");
    if (!status)
        status = ks_array_check(points, 1, POINTS_MOST, reader->err);
    if (status)
        return status;
    ks_property_point *read = KS_TAKE(reader->arena, points->n, ks_property_point);
    for (int i = 0; i < points->n && !status; i++)
        status =
            read_point(&points->items[i], &value, reader, i > 0 ? &read[i - 1] : NULL, &read[i]);
    out->points = read;
    out->n = points->n;
    return status;
}

static ks_status read_row(const ks_json *node, const ks_field_reader *reader, ks_fire_material *out)
{
    *out = (ks_fire_material){.use = KS_LINING,
                              .conductivity = {.source = "not told"},
                              .heat = {.source = "not told"},
                              .density_source = "not told",
                              .emissivity = 0.8,
                              .emissivity_source = "not told; 0.8 taken",
                              .limit_source = "not told"};
    ks_status status = KS_FIELDS_READ(node, row_fields, reader, out);
    const ks_json *conductivity = ks_json_get(node, "conductivity");
    const ks_json *heat = ks_json_get(node, "heat");
    if (!status && !heat)
        status =
            ks_json_lacks(node, "heat", reader->err,
                          "it must be {\"points\": [[20, 850], ...], \"source\": ...} in J/(kg K)");
    if (!status && !conductivity && out->use == KS_LINING)
        status = ks_json_lacks(
            node, "conductivity", reader->err,
            "it must be {\"points\": [[200, 0.14], ...], \"source\": ...} in W/(m K)");
    if (!status)
        status = read_property(heat, 50, 20000, reader, &out->heat);
    if (!status && conductivity)
        status = read_property(conductivity, 0.005, 500, reader, &out->conductivity);
    return status;
}

ks_status ks_materials_read(const char *path, ks_arena *arena, ks_materials *out, ks_error *err)
{
    const ks_json *file;
    ks_field_reader reader = {.arena = arena, .err = err};
    static const char *const keys[] = {"format", "units", "materials", "note"};
    ks_status status = ks_json_read(path, arena, &file, err);
    if (!status)
        status = ks_format_check(file, "kilnstow-materials/1", err);
    if (!status)
        status = ks_json_only(file, keys, 4, err);
    if (!status)
        status = ks_units_read(file, &reader.units, err);
    const ks_json *rows = status ? NULL : ks_json_get(file, "materials");
    if (!status)
        status = ks_array_check(rows, 0, MATERIALS_MOST, err);
    if (status)
        return status;
    const ks_materials *own = ks_materials_built_in();
    int n = rows ? rows->n : 0;
    ks_fire_material *all = KS_TAKE(arena, own->count + n, ks_fire_material);
    memcpy(all, own->rows, sizeof *all * (size_t)own->count);
    for (int i = 0; i < n && !status; i++)
        status = read_row(&rows->items[i], &reader, &all[own->count + i]);
    *out = (ks_materials){own->count + n, all};
    return status;
}
