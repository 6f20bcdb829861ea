/* kilnstow list ware: what was understood of an order, to be compared with the table it came from.
 */
#include "cli/frame/cli.h"
#include "cli/summary.h"

#include "app/answers/answer_frame.h"
#include "app/machine/where.h"
#include "base/data/json_out.h"
#include "base/text.h"
#include "base/units.h"
#include "studio/reading/reading.h"

#include <stdio.h>
#include <string.h>

enum { N_CELLS = 11 };
static const char *const titles[N_CELLS] = {
    KS_WORDS("ware"),  KS_WORDS("count"),  KS_WORDS("size"),   KS_WORDS("shape"),
    KS_WORDS("foot"),  KS_WORDS("handle"), KS_WORDS("mass"),   KS_WORDS("stage"),
    KS_WORDS("glaze"), KS_WORDS("owner"),  KS_WORDS("assumed")};

typedef struct {
    const char *cell[N_CELLS];
} ware_row;

static const char *length_words(const ks_order *order, double mm, ks_arena *arena)
{
    return ks_quantity_print(KS_LENGTH, mm, order->display.length, arena);
}

/* "84 mm x 96 mm tall", with what it is across both ways where they differ. */
static const char *size_words(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const ks_understood *of = &piece->understood;
    const char *width = length_words(order, of->width_mm, arena);
    const char *tall = length_words(order, of->height_mm, arena);
    if (strcmp(width, length_words(order, of->depth_mm, arena)) == 0 &&
        strcmp(of->shape, "rectangular") != 0)
        return ks_arena_print(arena, "%s x %s tall", width, tall);
    return ks_arena_print(arena, "%s x %s x %s tall", width,
                          length_words(order, of->depth_mm, arena), tall);
}

/* The family whose sizes it has beside its shape, and that it is not told upright. */
static const char *shape_words(const ks_piece *piece, ks_arena *arena)
{
    const ks_understood *of = &piece->understood;
    const char *posed = piece->pose == KS_UPRIGHT ? "" : ks_tr(ks_pose_name(piece->pose));
    return ks_arena_print(arena, "%s%s%s%s%s%s%s", ks_tr(of->shape), *of->family ? " (" : "",
                          of->family, *of->family ? ")" : "", *posed ? ", " : "", posed,
                          piece->has_setter ? ks_tr(", on its setter") : "");
}

static const char *handle_words(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const ks_understood *of = &piece->understood;
    const char *handle = of->handle_mm > 0 ? length_words(order, of->handle_mm, arena) : "-";
    if (of->spout_mm <= 0)
        return handle;
    return ks_arena_print(arena, "%s, spout %s", handle, length_words(order, of->spout_mm, arena));
}

static const char *glaze_words(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    for (int i = 0; i < piece->n_glazes; i++)
        ks_text_print(&words, "%s%s", i > 0 ? " + " : "", order->glazes[piece->glazes[i]].id);
    return words.length > 0 ? ks_text_end(&words) : "-";
}

static ware_row row_of(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const char *name = strcmp(piece->id, piece->name) == 0
                           ? piece->id
                           : ks_arena_print(arena, "%s (%s)", piece->id, piece->name);
    return (ware_row){
        {name, piece->fill ? ks_tr("as many as fit") : ks_arena_print(arena, "%d", piece->count),
         size_words(order, piece, arena), shape_words(piece, arena),
         length_words(order, piece->understood.foot_mm, arena), handle_words(order, piece, arena),
         ks_quantity_print(KS_MASS, piece->mass_kg, order->display.mass, arena),
         ks_tr(ks_stage_name(piece->stage)), glaze_words(order, piece, arena),
         *piece->owner ? piece->owner : "-",
         *piece->defaults ? ks_default_words(piece->defaults, arena) : ks_tr("nothing")}};
}

/* Columns as wide as what stands in them, the last as it is. */
static void print_rows(const ware_row *rows, int n)
{
    int wide[N_CELLS] = {0};
    for (int i = 0; i < n; i++)
        for (int c = 0; c < N_CELLS; c++) {
            int width = ks_utf8_count(rows[i].cell[c]);
            wide[c] = width > wide[c] ? width : wide[c];
        }
    for (int i = 0; i < n; i++)
        for (int c = 0; c < N_CELLS; c++) {
            bool last = c == N_CELLS - 1;
            int blanks = last ? 0 : wide[c] - ks_utf8_count(rows[i].cell[c]) + 2;
            printf("%s%*s%s", rows[i].cell[c], blanks, "", last ? "\n" : "");
        }
}

static void told_to_people(const ks_order *order, ks_arena *arena)
{
    ware_row *rows = KS_TAKE(arena, order->n_pieces + 1, ware_row);
    int copies = 0, fills = 0;
    for (int c = 0; c < N_CELLS; c++)
        rows[0].cell[c] = ks_tr(titles[c]);
    for (int i = 0; i < order->n_pieces; i++) {
        rows[i + 1] = row_of(order, &order->pieces[i], arena);
        copies += order->pieces[i].count;
        fills += order->pieces[i].fill;
    }
    print_rows(rows, order->n_pieces + 1);
    printf(ks_tr_count(order->n_pieces, "\n%d kind of ware", "\n%d kinds of ware"),
           order->n_pieces);
    printf(fills > 0 ? ks_tr_count(copies, ", %d piece counted", ", %d pieces counted")
                     : ks_tr_count(copies, ", %d piece", ", %d pieces"),
           copies);
    if (fills > 0)
        printf(ks_tr_count(fills, "; of %d kind as many as fit", "; of %d kinds as many as fit"),
               fills);
    printf(".\n");
    ks_summary_warnings(order, stderr);
}

static void list_of_words(ks_json_out *out, const char *key, const char *list)
{
    ks_out_array_flat(out, key);
    for (size_t length; *list; list += length + strspn(list + length, ", ")) {
        length = strcspn(list, ",");
        ks_out_text(out, NULL, ks_arena_text_n(out->text.arena, list, length));
    }
    ks_out_end(out);
}

static void piece_as_json(ks_json_out *out, const ks_order *order, const ks_piece *piece)
{
    const ks_understood *of = &piece->understood;
    ks_out_object(out, NULL);
    ks_out_text(out, "id", piece->id);
    ks_out_text(out, "name", piece->name);
    ks_out_text(out, "owner", piece->owner);
    if (piece->fill)
        ks_out_text(out, "count", "fill");
    else
        ks_out_whole(out, "count", piece->count);
    ks_out_text(out, "shape", of->shape);
    ks_out_text(out, "family", *of->family ? of->family : NULL);
    ks_out_number(out, "width_mm", of->width_mm);
    ks_out_number(out, "depth_mm", of->depth_mm);
    ks_out_number(out, "height_mm", of->height_mm);
    ks_out_number(out, "foot_mm", of->foot_mm);
    ks_out_number(out, "handle_mm", of->handle_mm);
    ks_out_number(out, "spout_mm", of->spout_mm);
    ks_out_bool(out, "setter", piece->has_setter);
    ks_out_text(out, "pose", ks_pose_name(piece->pose));
    ks_out_number(out, "mass_kg", piece->mass_kg);
    ks_out_number(out, "wall_mm", piece->wall_mm);
    ks_out_text(out, "stage", ks_stage_name(piece->stage));
    ks_out_text(out, "clay", piece->clay >= 0 ? order->clays[piece->clay].id : NULL);
    ks_out_array_flat(out, "glazes");
    for (int i = 0; i < piece->n_glazes; i++)
        ks_out_text(out, NULL, order->glazes[piece->glazes[i]].id);
    ks_out_end(out);
    list_of_words(out, "assumed", piece->defaults);
    ks_out_text(out, "as_entered", piece->as_entered);
    ks_out_whole(out, "line", piece->file_line);
    ks_out_end(out);
}

int ks_cli_list_ware(ks_cli *cli, const char *order_path, const char *columns)
{
    ks_order *order = NULL;
    ks_status status = ks_order_read_columns(order_path, ks_where_kilns(&cli->arena), columns,
                                             &cli->arena, &order, &cli->err);
    if (status)
        return ks_cli_failed(cli);
    if (!cli->parsed.json) {
        told_to_people(order, &cli->arena);
        return KS_OK;
    }
    ks_json_out out = {.text.arena = &cli->arena};
    ks_answer_open(&out, "list", "done");
    ks_answer_warnings(&out, order);
    ks_out_array(&out, "result");
    for (int i = 0; i < order->n_pieces; i++)
        piece_as_json(&out, order, &order->pieces[i]);
    fputs(ks_answer_close(&out), stdout);
    return KS_OK;
}
