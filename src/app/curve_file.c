#include "app/curve_file.h"

#include "base/file.h"
#include "base/data/json_out.h"
#include "base/number.h"
#include "studio/level_name.h"

#include <math.h>
#include <string.h>

static void number_cell(ks_text *text, double value, int decimals)
{
    ks_text_add(text, ",");
    if (isfinite(value))
        ks_text_add(text, ks_number_fixed(value, decimals, text->arena));
}

static void measured_heads(ks_text *text, const ks_comparison *measured)
{
    ks_text_add(text, ",measured_c");
    for (int c = 0; measured->record.n_curves > 1 && c < measured->record.n_curves; c++)
        ks_text_print(text, ",measured_%d_c", c + 1);
}

static void measured_cells(ks_text *text, const ks_comparison *measured, double hours)
{
    const ks_measured *record = &measured->record;
    number_cell(text, ks_compared_at(measured, &record->mean, hours), 1);
    for (int c = 0; record->n_curves > 1 && c < record->n_curves; c++)
        number_cell(text, ks_compared_at(measured, &record->curves[c], hours), 1);
}

static void level_heads(ks_text *text, const char *name)
{
    ks_text_print(text, ",level_%s_edge_c,level_%s_middle_c", name, name);
}

const char *ks_curve_csv(const ks_fired_curve *of, ks_arena *arena)
{
    const ks_firing_result *fired = of->fired;
    ks_text text = {.arena = arena};
    ks_text_add(&text, "time_h,set_c,chamber_c,power_kw,casing_c");
    for (int v = 0; v < fired->n_levels; v++)
        level_heads(&text, ks_level_file_name(fired->levels[v].name, arena));
    if (of->measured)
        measured_heads(&text, of->measured);
    ks_text_add(&text, "\r\n");
    for (int i = 0; i < fired->n_points; i++) {
        const ks_fire_point *point = &fired->points[i];
        ks_text_add(&text, ks_number_fixed(point->time_h, 4, arena));
        number_cell(&text, point->set_c, 1);
        number_cell(&text, point->chamber_c, 1);
        number_cell(&text, point->power_kw, 3);
        number_cell(&text, point->casing_c, 1);
        for (int v = 0; v < fired->n_levels; v++) {
            number_cell(&text, point->edge_c[v], 1);
            number_cell(&text, point->middle_c[v], 1);
        }
        if (of->measured)
            measured_cells(&text, of->measured, point->time_h);
        ks_text_add(&text, "\r\n");
    }
    return ks_text_end(&text);
}

static void measured_json(ks_json_out *out, const ks_comparison *measured, double hours)
{
    const ks_measured *record = &measured->record;
    ks_out_number(out, "measured_c",
                  round(ks_compared_at(measured, &record->mean, hours) * 10) / 10);
    ks_out_array(out, "thermocouples_c");
    for (int c = 0; c < record->n_curves; c++)
        ks_out_number(out, NULL,
                      round(ks_compared_at(measured, &record->curves[c], hours) * 10) / 10);
    ks_out_end(out);
}

static const char *curve_json(const ks_fired_curve *of, ks_arena *arena)
{
    const ks_firing_result *fired = of->fired;
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "format", "kilnstow-curve/1");
    ks_out_array(&out, "points");
    for (int i = 0; i < fired->n_points; i++) {
        const ks_fire_point *point = &fired->points[i];
        ks_out_object_flat(&out, NULL);
        ks_out_number(&out, "time_h", round(point->time_h * 1e4) / 1e4);
        ks_out_number(&out, "set_c", round(point->set_c * 10) / 10);
        ks_out_number(&out, "chamber_c", round(point->chamber_c * 10) / 10);
        ks_out_number(&out, "power_kw", round(point->power_kw * 1e3) / 1e3);
        ks_out_number(&out, "casing_c", round(point->casing_c * 10) / 10);
        ks_out_array(&out, "levels");
        for (int v = 0; v < fired->n_levels; v++) {
            ks_out_object(&out, NULL);
            ks_out_text(&out, "level", fired->levels[v].name);
            ks_out_number(&out, "edge_c", round(point->edge_c[v] * 10) / 10);
            ks_out_number(&out, "middle_c", round(point->middle_c[v] * 10) / 10);
            ks_out_end(&out);
        }
        ks_out_end(&out);
        if (of->measured)
            measured_json(&out, of->measured, point->time_h);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    ks_out_end(&out);
    return ks_out_done(&out);
}

static ks_status write_picture(const char *path, ks_target_kind kind, const ks_fired_curve *of,
                               ks_arena *arena, ks_error *err)
{
    ks_chart chart = ks_curve_chart(of, arena);
    ks_draw_options options = ks_draw_default();
    ks_drawing drawing;
    options.format = kind == KS_TARGET_PDF ? KS_PDF : kind == KS_TARGET_SVG ? KS_SVG : KS_PNG;
    ks_status status = ks_draw_chart(&chart, &options, arena, &drawing, err);
    if (status)
        return status;
    return ks_file_write(path, (const char *)drawing.files[0].bytes, drawing.files[0].size, err);
}

ks_status ks_curve_kind(const char *path, ks_target_kind *kind, ks_error *err)
{
    static const struct {
        const char *ending;
        ks_target_kind kind;
    } endings[] = {{".csv", KS_TARGET_CURVE_TABLE},
                   {".json", KS_TARGET_CURVE},
                   {".pdf", KS_TARGET_PDF},
                   {".svg", KS_TARGET_SVG},
                   {".png", KS_TARGET_PNG}};
    if (ks_path_is_standard(path)) {
        *kind = KS_TARGET_CURVE_TABLE;
        return KS_OK;
    }
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (ks_path_ends(path, endings[i].ending)) {
            *kind = endings[i].kind;
            return KS_OK;
        }
    return ks_fail(err, KS_BAD_USAGE,
                   "--curve: found \"%s\"; its name must end in .csv, .json, .pdf, .svg or .png",
                   path);
}

ks_status ks_curve_write(const char *path, const ks_fired_curve *of, ks_arena *arena, ks_error *err)
{
    ks_target_kind kind;
    ks_status status = ks_curve_kind(path, &kind, err);
    if (status)
        return status;
    if (kind != KS_TARGET_CURVE_TABLE && kind != KS_TARGET_CURVE)
        return write_picture(path, kind, of, arena, err);
    const char *text =
        kind == KS_TARGET_CURVE_TABLE ? ks_curve_csv(of, arena) : curve_json(of, arena);
    return ks_file_write(path, text, strlen(text), err);
}
