/* list.c: kilnstow list. */
#include "cli/frame/cli.h"

#include "app/answers/answer_frame.h"
#include "app/machine/where.h"
#include "base/file.h"
#include "base/data/json_out.h"
#include "kilnstow/cone.h"
#include "kilnstow/materials.h"
#include "kilnstow/order.h"
#include "studio/files/sizing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void kiln_as_json(ks_json_out *out, const char *file, const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "file", file);
    ks_out_text(out, "name", kiln->name);
    ks_out_number(out, "width_mm", box.x1 - box.x0);
    ks_out_number(out, "depth_mm", box.y1 - box.y0);
    ks_out_number(out, "height_mm", kiln->height_mm);
    ks_out_number(out, "volume_litres", ks_chamber_litres(kiln));
    ks_out_number(out, "first_gap_mm", kiln->first_gap_mm);
    ks_out_number(out, "top_gap_mm", kiln->top_gap_mm);
    ks_out_number(out, "rated_kw", kiln->heat.rated_kw);
    ks_out_end(out);
}

static void kiln_as_text(const char *file, const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    printf("%-26s %5.0f x %4.0f x %4.0f mm %6.0f l %6.1f kW  %s\n", file, box.x1 - box.x0,
           box.y1 - box.y0, kiln->height_mm, ks_chamber_litres(kiln), kiln->heat.rated_kw,
           kiln->name);
}

/* Opens the answer's envelope, and its result as a list. */
static void open_list(ks_json_out *out)
{
    ks_answer_open(out, "list", "done");
    ks_answer_warnings(out, NULL);
    ks_out_array(out, "result");
}

static void close_list(const ks_cli *cli, ks_json_out *out)
{
    const char *answer = ks_answer_close(out);
    if (cli->parsed.json)
        fputs(answer, stdout);
}

static int show_kilns(ks_cli *cli)
{
    const char **files, *folder = ks_where_kilns(&cli->arena);
    int n = ks_where_files(folder, ".json", &cli->arena, &files);
    ks_json_out out = {.text.arena = &cli->arena};
    open_list(&out);
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
    close_list(cli, &out);
    return KS_OK;
}

/* The chart gives none for the coldest cones. */
static const char *at_slowest(double temp_c, ks_arena *arena)
{
    return isnan(temp_c) ? "-" : ks_arena_print(arena, "%.0f", temp_c);
}

static int show_cones(ks_cli *cli)
{
    ks_json_out out = {.text.arena = &cli->arena};
    open_list(&out);
    if (!cli->parsed.json)
        printf("Cones and the temperature, C, at which they go down when the last 100 C are heated "
               "so\n"
               "  %-6s%10s%10s%11s\n",
               ks_tr("cone"), "15 C/h", "60 C/h", "150 C/h");
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
    close_list(cli, &out);
    return KS_OK;
}

static int show_materials(ks_cli *cli)
{
    const ks_materials *materials = ks_materials_built_in();
    ks_json_out out = {.text.arena = &cli->arena};
    open_list(&out);
    if (!cli->parsed.json)
        printf("  %-24s%12s%16s%14s%14s\n", ks_tr("material"), "kg/m3", ks_tr("W/mK at 600 C"),
               ks_tr("J/kgK at 600"), ks_tr("emissivity"));
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
    close_list(cli, &out);
    return KS_OK;
}

/* How far a kiln is from the size asked for: across, deep, and front to back if that is told. */
static double size_apart(const ks_kiln *kiln, int n, const double mm[3])
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    double across = box.x1 - box.x0, back = box.y1 - box.y0;
    double apart = fabs(fmin(across, back) - mm[0]) + fabs(across - back);
    if (n == 3)
        apart = fmin(fabs(across - mm[0]) + fabs(back - mm[1]),
                     fabs(across - mm[1]) + fabs(back - mm[0]));
    return apart + fabs(kiln->height_mm - mm[n - 1]);
}

/* The file of the kiln that came along and is nearest in size, to be edited. */
static int show_nearest_kiln(ks_cli *cli, const char *like)
{
    const char **files, *folder = ks_where_kilns(&cli->arena), *nearest = NULL;
    int n = ks_where_files(folder, ".json", &cli->arena, &files);
    double mm[3], least = INFINITY;
    int told = ks_size_numbers(like, &cli->arena, mm);
    if (told < 2) {
        (void)ks_fail(&cli->err, KS_BAD_USAGE,
                      "--like: found \"%s\"; it takes how wide and how deep, \"58x69cm\", or width "
                      "x front to back x height, \"45 x 71 x 69 cm\"",
                      like);
        return ks_cli_failed(cli);
    }
    for (int i = 0; i < n; i++) {
        ks_kiln kiln;
        const char *path = ks_path_join(folder, files[i], &cli->arena);
        if (ks_kiln_read(path, &cli->arena, &kiln, &cli->err))
            return ks_cli_failed(cli);
        if (size_apart(&kiln, told, mm) < least) {
            least = size_apart(&kiln, told, mm);
            nearest = path;
        }
    }
    ks_bytes file;
    if (!nearest)
        (void)ks_fail(&cli->err, KS_SYSTEM, "list: no kilns were found beside the program");
    if (!nearest || ks_file_read(nearest, 1 << 23, &cli->arena, &file, &cli->err))
        return ks_cli_failed(cli);
    fwrite(file.bytes, 1, file.length, stdout);
    fprintf(stderr,
            "nearest: %s. Save it beside your order, set its size, shelves and posts to yours, and "
            "name that file in \"kilns\"\n",
            ks_path_name(nearest));
    return KS_OK;
}

static int ask_kilns(ks_cli *cli, const char *like)
{
    return like ? show_nearest_kiln(cli, like) : show_kilns(cli);
}

static int show_list(ks_cli *cli, const char *columns, const char *like)
{
    const char *what = cli->parsed.args[0];
    bool ware = strcmp(what, "ware") == 0;
    if (ware && cli->parsed.n_args == 2)
        return ks_cli_list_ware(cli, cli->parsed.args[1], columns);
    bool room = strcmp(what, "room") == 0;
    if (room && cli->parsed.n_args == 2)
        return ks_cli_list_room(cli, cli->parsed.args[1]);
    if (!ware && !room && cli->parsed.n_args == 1) {
        if (strcmp(what, "kilns") == 0)
            return ask_kilns(cli, like);
        if (strcmp(what, "cones") == 0)
            return show_cones(cli);
        if (strcmp(what, "materials") == 0)
            return show_materials(cli);
    }
    (void)ks_fail(
        &cli->err, KS_BAD_USAGE,
        "list: found \"%s%s%s\"; it lists kilns, cones, materials, ware of an order (kilnstow "
        "list ware order.json) or room in a plan (kilnstow list room plan.json)",
        what, cli->parsed.n_args > 1 ? " " : "", cli->parsed.n_args > 1 ? cli->parsed.args[1] : "");
    return ks_cli_failed(cli);
}

int ks_cli_list(int argc, char **argv)
{
    const char *columns = NULL, *like = NULL;
    const ks_option options[] = {
        {"columns", 0, "WORDS", KS_OPT_TEXT, &columns, 0, 0, KS_COLUMNS_HELP},
        {"like", 0, "SIZE", KS_OPT_TEXT, &like, 0, 0,
         "with kilns: the nearest of that size, as a file to edit"},
    };
    const ks_command command = {"list",
                                "shows what is built in, what was understood of an order, or what "
                                "would still go into a plan",
                                "kilns|cones|materials, ware ORDER or room PLAN",
                                1,
                                2,
                                "  kilnstow list kilns\n"
                                "  kilnstow list kilns --like 58x69cm > our-kiln.json\n"
                                "  kilnstow list cones\n"
                                "  kilnstow list materials\n"
                                "  kilnstow list ware order.json\n"
                                "  kilnstow list room plan.json",
                                NULL,
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, show_list(&cli, columns, like));
}
