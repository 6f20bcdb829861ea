/* list.c: kilnstow list. */
#include "cli/cli.h"

#include "app/where.h"
#include "base/file.h"
#include "base/json_out.h"
#include "base/version.h"
#include "kilnstow/cone.h"
#include "kilnstow/materials.h"
#include "kilnstow/order.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double chamber_litres(const ks_kiln *kiln)
{
    double mm3 = 0;
    for (int i = 0; i < kiln->n_parts; i++)
        mm3 += ks_outline_area(&kiln->parts[i].outline) *
               (kiln->parts[i].to_mm - kiln->parts[i].from_mm);
    return mm3 / 1e6;
}

static void kiln_as_json(ks_json_out *out, const char *file, const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "file", file);
    ks_out_text(out, "name", kiln->name);
    ks_out_number(out, "width_mm", box.x1 - box.x0);
    ks_out_number(out, "depth_mm", box.y1 - box.y0);
    ks_out_number(out, "height_mm", kiln->height_mm);
    ks_out_number(out, "volume_litres", chamber_litres(kiln));
    ks_out_number(out, "first_gap_mm", kiln->first_gap_mm);
    ks_out_number(out, "top_gap_mm", kiln->top_gap_mm);
    ks_out_number(out, "rated_kw", kiln->heat.rated_kw);
    ks_out_end(out);
}

static void kiln_as_text(const char *file, const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    printf("%-26s %5.0f x %4.0f x %4.0f mm %6.0f l %6.1f kW  %s\n", file, box.x1 - box.x0,
           box.y1 - box.y0, kiln->height_mm, chamber_litres(kiln), kiln->heat.rated_kw, kiln->name);
}

/* Opens the answer's envelope, and its result as a list. */
static void list_opened(ks_json_out *out)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "format", "kilnstow-answer/1");
    ks_out_text(out, "version", ks_version);
    ks_out_text(out, "command", "list");
    ks_out_text(out, "status", "done");
    ks_out_array(out, "warnings");
    ks_out_end(out);
    ks_out_array(out, "result");
}

static void list_closed(const ks_cli *cli, ks_json_out *out)
{
    ks_out_end(out);
    ks_out_end(out);
    if (cli->parsed.json)
        fputs(ks_out_done(out), stdout);
}

static int kilns_shown(ks_cli *cli)
{
    const char **files, *folder = ks_where_kilns(&cli->arena);
    int n = ks_where_files(folder, ".json", &cli->arena, &files);
    ks_json_out out = {.text.arena = &cli->arena};
    list_opened(&out);
    for (int i = 0; i < n; i++) {
        ks_kiln kiln;
        if (ks_kiln_read(ks_path_join(folder, files[i], &cli->arena), &cli->arena, &kiln,
                         &cli->err))
            return ks_cli_failed(cli);
        if (cli->parsed.json)
            kiln_as_json(&out, files[i], &kiln);
        else
            kiln_as_text(files[i], &kiln);
    }
    list_closed(cli, &out);
    return KS_OK;
}

/* The chart gives none for the coldest cones. */
static const char *at_slowest(double temp_c, ks_arena *arena)
{
    return isnan(temp_c) ? "-" : ks_arena_print(arena, "%.0f", temp_c);
}

static int cones_shown(ks_cli *cli)
{
    ks_json_out out = {.text.arena = &cli->arena};
    list_opened(&out);
    if (!cli->parsed.json)
        printf("Cones and the temperature, C, at which they go down when the last 100 C are heated "
               "so\n"
               "  %-6s%10s%10s%11s\n",
               "cone", "15 C/h", "60 C/h", "150 C/h");
    for (int i = 0; i < ks_cone_count(); i++) {
        const char *name = ks_cone(i)->name;
        const double *at = ks_cone(i)->temp_c;
        if (!cli->parsed.json)
            printf("  %-6s%10s%10.0f%11.0f\n", name, at_slowest(at[0], &cli->arena), at[1], at[2]);
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "cone", name);
        ks_out_number(&out, "at_15_c_h_c", at[0]);
        ks_out_number(&out, "at_60_c_h_c", at[1]);
        ks_out_number(&out, "at_150_c_h_c", at[2]);
        ks_out_end(&out);
    }
    list_closed(cli, &out);
    return KS_OK;
}

static int materials_shown(ks_cli *cli)
{
    const ks_materials *materials = ks_materials_built_in();
    ks_json_out out = {.text.arena = &cli->arena};
    list_opened(&out);
    if (!cli->parsed.json)
        printf("  %-24s%12s%16s%14s%14s\n", "material", "kg/m3", "W/mK at 600 C", "J/kgK at 600",
               "emissivity");
    for (int i = 0; i < materials->count; i++) {
        const ks_fire_material *row = &materials->rows[i];
        double k = ks_property_at(&row->conductivity, 600), c = ks_property_at(&row->heat, 600);
        const char *k_text = k > 0 ? ks_arena_print(&cli->arena, "%.3f", k) : "-";
        if (!cli->parsed.json)
            printf("  %-24s%12.0f%16s%14.0f%14.2f  %s\n", row->name, row->density_kg_m3, k_text, c,
                   row->emissivity, k > 0 ? row->conductivity.source : row->heat.source);
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "material", row->name);
        ks_out_number(&out, "density_kg_m3", row->density_kg_m3);
        ks_out_number(&out, "conductivity_600_c_w_mk", k > 0 ? k : NAN);
        ks_out_number(&out, "heat_600_c_j_kgk", c);
        ks_out_number(&out, "emissivity", row->emissivity);
        ks_out_text(&out, "source", row->conductivity.source);
        ks_out_end(&out);
    }
    list_closed(cli, &out);
    return KS_OK;
}

static const struct {
    const char *what;
    int (*shown)(ks_cli *cli);
} lists[] = {{"kilns", kilns_shown}, {"cones", cones_shown}, {"materials", materials_shown}};

int ks_cli_list(int argc, char **argv)
{
    const ks_command command = {
        "list",  "shows what is built in",
        "kilns", 1,
        1,       "  kilnstow list kilns\n  kilnstow list cones\n  kilnstow list materials",
        NULL,    0,
        NULL};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    const char *what = cli.parsed.args[0];
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
        if (strcmp(what, lists[i].what) == 0)
            return ks_cli_finish(&cli, lists[i].shown(&cli));
    (void)ks_fail(&cli.err, KS_BAD_USAGE, "list: found \"%s\"; it lists %s", what, command.takes);
    return ks_cli_finish(&cli, ks_cli_failed(&cli));
}
