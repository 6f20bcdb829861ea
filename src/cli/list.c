/* list.c: kilnstow list. */
#include "cli/cli.h"

#include "app/where.h"
#include "base/file.h"
#include "base/json_out.h"
#include "kilnstow/order.h"

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
    ks_out_number(out, "rated_kw", kiln->heat.rated_kw);
    ks_out_end(out);
}

static void kiln_as_text(const char *file, const ks_kiln *kiln)
{
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    printf("%-26s %5.0f x %4.0f x %4.0f mm %6.0f l %6.1f kW  %s\n", file, box.x1 - box.x0,
           box.y1 - box.y0, kiln->height_mm, chamber_litres(kiln), kiln->heat.rated_kw, kiln->name);
}

static int kilns_shown(ks_cli *cli)
{
    const char **files, *folder = ks_where_kilns(&cli->arena);
    int n = ks_where_files(folder, ".json", &cli->arena, &files);
    ks_json_out out = {.text.arena = &cli->arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "format", "kilnstow-answer/1");
    ks_out_text(&out, "command", "list");
    ks_out_text(&out, "status", "done");
    ks_out_array(&out, "warnings");
    ks_out_end(&out);
    ks_out_array(&out, "result");
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
    ks_out_end(&out);
    ks_out_end(&out);
    if (cli->parsed.json)
        fputs(ks_out_done(&out), stdout);
    return KS_OK;
}

static const struct {
    const char *what;
    int (*shown)(ks_cli *cli);
} lists[] = {{"kilns", kilns_shown}};

int ks_cli_list(int argc, char **argv)
{
    const ks_command command = {
        "list", "shows what is built in", "kilns", 1, 1, "  kilnstow list kilns", NULL, 0, NULL};
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
