#include "studio/display.h"
#include "studio/files/named_only.h"
#include "studio/files/order_file.h"
#include "studio/files/piece_file.h"
#include "studio/files/stacking_file.h"
#include "studio/files/ware_table.h"

#include "base/file.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_FILES = 100 };

static void inline_ware(ks_reading *reading, const ks_json *list, ks_ware_nodes *nodes)
{
    if (list && list->kind == KS_JSON_TEXT) {
        ks_json_fail(
            list, reading->fields.err,
            "found \"%s\"; pieces stand here one by one in [...]; a table of them is named "
            "by \"ware_files\": [\"%s\"]",
            list->text, list->text);
        return;
    }
    if (!list || ks_array_check(list, 0, KS_MOST_PIECES, reading->fields.err) != KS_OK)
        return;
    for (int i = 0; i < list->n; i++) {
        nodes->nodes =
            KS_GROW(reading->fields.arena, nodes->nodes, nodes->n, &nodes->room, const ks_json *);
        nodes->nodes[nodes->n++] = &list->items[i];
    }
}

static void spreadsheets(ks_reading *reading, const ks_json *files, ks_ware_nodes *nodes)
{
    if (!files || ks_array_check(files, 0, MOST_FILES, reading->fields.err) != KS_OK)
        return;
    for (int i = 0; i < files->n; i++) {
        const ks_json *file = &files->items[i];
        if (file->kind != KS_JSON_TEXT) {
            ks_json_fail(file, reading->fields.err, "found %s; the name of a CSV file is needed",
                         ks_json_found(file).words);
            continue;
        }
        const char *path = ks_path_join(reading->folder, file->text, reading->fields.arena);
        ks_note_read(reading, path);
        ks_ware_csv_rows(reading, path, file, nodes);
    }
}

static const char *told_id(const ks_json *node)
{
    const ks_json *id = ks_json_get(node, "id");
    return id && id->kind == KS_JSON_TEXT ? id->text : NULL;
}

/* What a piece goes by: its id, else its name, else its line. */
typedef struct {
    const char *word;
    bool told;
    ks_json *row; /* that tells no id, NULL if it does */
    int place;
} calling;

static int by_word_then_told(const void *a, const void *b)
{
    const calling *one = a, *other = b;
    int order = strcmp(one->word, other->word);
    return order != 0                 ? order
           : one->told != other->told ? (int)other->told - (int)one->told
                                      : one->place - other->place;
}

/* Rows without an id go by their name, the second of that name as "mug 2". */
static void ids_given(ks_arena *arena, ks_ware_nodes *nodes)
{
    calling *all = KS_TAKE(arena, nodes->n + nodes->n_unnamed, calling);
    int n = 0, alike = 0;
    for (int i = 0; i < nodes->n; i++)
        if (told_id(nodes->nodes[i]))
            all[n++] = (calling){told_id(nodes->nodes[i]), true, NULL, i};
    for (int i = 0; i < nodes->n_unnamed; i++)
        all[n++] = (calling){nodes->unnamed[i]->key, false, nodes->unnamed[i], i};
    if (n > 1)
        qsort(all, (size_t)n, sizeof *all, by_word_then_told);
    for (int i = 0; i < n; i++) {
        alike = i > 0 && strcmp(all[i - 1].word, all[i].word) == 0 ? alike + 1 : 0;
        if (!all[i].row)
            continue;
        if (alike > 0)
            all[i].row->key = ks_arena_print(arena, "%s %d", all[i].word, alike + 1);
        ks_json_cell(all[i].row, "id", all[i].row->key, all[i].row->line, 1);
    }
}

static const ks_json *on_node(const ks_json *piece)
{
    return ks_json_get(ks_json_get(piece, "on"), "id");
}

/* Pieces that would stand on each other in a ring; `under` names what each stands on, -1 = a shelf.
 * Copies of one piece may stack. */
static void refuse_rings(ks_reading *reading, const ks_ware_nodes *nodes, const ks_order *order,
                         int *under)
{
    for (int i = 0; i < order->n_pieces; i++) {
        int at = under[i];
        for (int steps = 0; at >= 0 && at != i && steps < order->n_pieces; steps++)
            at = under[at];
        if (at != i)
            continue;
        ks_json_fail(on_node(nodes->nodes[i]), reading->fields.err,
                     "found \"%s\", which in turn stands on %s; one of them must stand on a shelf",
                     order->pieces[i].on_id, order->pieces[i].id);
        under[i] = -1; /* the ring is told once */
    }
}

static void supports_referred(ks_reading *reading, const ks_ware_nodes *nodes, ks_order *order)
{
    ks_id_list pieces = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    int *under = KS_TAKE(reading->fields.arena, order->n_pieces, int);
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        const ks_json *node = nodes->nodes[i];
        under[i] = -1;
        if (!piece->on_id || !on_node(node))
            continue;
        int place = ks_id_refer(on_node(node), &pieces, reading->fields.err);
        if (place >= 0 && order->pieces[place].fill)
            ks_json_fail(node, reading->fields.err,
                         "it is to stand on %s, which is counted as \"fill\": maybe none goes in",
                         piece->on_id);
        else if (place >= 0 && piece->on_copy > order->pieces[place].count)
            ks_json_fail(node, reading->fields.err,
                         "it is to stand on copy %d of %s, of which there "
                         "are %d",
                         piece->on_copy, piece->on_id, order->pieces[place].count);
        else if (place == i && piece->count == 1)
            ks_json_fail(node, reading->fields.err, "it cannot stand on itself");
        else if (place != i)
            under[i] = place;
        if (place >= 0)
            order->pieces[i].on_id = order->pieces[place].id;
    }
    refuse_rings(reading, nodes, order, under);
    for (int i = 0; i < order->n_pieces; i++)
        ks_joints_refer(reading, nodes->nodes[i], order, i);
    for (int i = 0; i < order->n_pieces; i++)
        ks_lid_refer(reading, nodes->nodes[i], order, i);
    for (int i = 0; i < order->n_pieces; i++)
        ks_beside_refer(reading, nodes->nodes[i], order, i);
}

static double widest_chamber(const ks_order *order, double *tallest)
{
    double widest = 0;
    *tallest = 0;
    for (int i = 0; i < order->n_kilns; i++) {
        *tallest = fmax(*tallest, order->kilns[i].height_mm);
        for (int j = 0; j < order->kilns[i].n_parts; j++)
            widest = fmax(widest, 2 * ks_outline_around(&order->kilns[i].parts[j].outline).r);
    }
    return widest;
}

static double widest_part(const ks_piece *piece)
{
    double widest = 0;
    for (int i = 0; i < piece->n_parts; i++)
        widest = fmax(widest, 2 * ks_outline_around(&piece->parts[i].outline).r);
    return widest;
}

/* Mass over the volume of its blocks, g/cm3; the air within counts, so that ware is far lighter
 * than clay. */
static double bulk_density(const ks_piece *piece)
{
    double mm3 = 0;
    for (int i = 0; i < piece->n_parts; i++)
        if (piece->parts[i].kind == KS_PART_BODY || piece->parts[i].kind == KS_PART_FOOT)
            mm3 += ks_outline_area(&piece->parts[i].outline) *
                   (piece->parts[i].to_mm - piece->parts[i].from_mm);
    return piece->bare_mass_kg / (mm3 / 1e6);
}

/* Slips that are no errors, most of them a wrong unit. */
static void sizes_doubted(ks_reading *reading, const ks_json *node, const ks_piece *piece)
{
    double tallest, chamber = widest_chamber(reading->order, &tallest), widest = widest_part(piece);
    const ks_display *show = &reading->order->display;
    ks_arena *arena = reading->fields.arena;
    const char *wide = ks_show_length(show, widest, arena),
               *tall = ks_show_length(show, piece->height_mm, arena);
    if (reading->order->n_kilns > 0 && (widest > chamber || piece->height_mm > tallest))
        ks_warn(reading, node,
                "%s across and %s tall is larger than any kiln here (%s and %s); was another unit "
                "meant?",
                wide, tall, ks_show_length(show, chamber, arena),
                ks_show_length(show, tallest, arena));
    if (widest < 5 || piece->height_mm < 5)
        ks_warn(reading, node, "%s across and %s tall is very small; was another unit meant?", wide,
                tall);
    double density = bulk_density(piece);
    if (density < 0.08 || density > 3)
        ks_warn(reading, node,
                density > 3
                    ? "%s is heavier than any ware of this size; check the mass and the units"
                    : "%s is lighter than any ware of this size; check the mass and the units",
                ks_show_mass(show, piece->bare_mass_kg, arena));
}

void ks_ware_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    ks_error *err = reading->fields.err;
    ks_ware_nodes nodes = {0};
    inline_ware(reading, ks_json_get(node, "ware"), &nodes);
    spreadsheets(reading, ks_json_get(node, "ware_files"), &nodes);
    if (nodes.n == 0 && err->count == 0 && !node->parent)
        ks_json_fail(node, err,
                     "found no ware; list it in \"ware\", or name a table in \"ware_files\": "
                     "[\"ware.csv\"]");
    ids_given(reading->fields.arena, &nodes);
    if (nodes.n > KS_MOST_PIECES) {
        ks_json_fail(node, err, "found %d kinds of pieces; %d are the most", nodes.n,
                     KS_MOST_PIECES);
        return;
    }
    order->pieces = KS_TAKE(reading->fields.arena, nodes.n, ks_piece);
    for (int i = 0; i < nodes.n; i++) {
        int before = err->count;
        ks_piece_read(reading, nodes.nodes[i], &order->pieces[i]);
        order->n_pieces = i + 1;
        if (err->count == before)
            sizes_doubted(reading, nodes.nodes[i], &order->pieces[i]);
    }
    for (int t = 0; t < order->n_tables; t++)
        for (int i = 0; i < order->tables[t].n_pieces; i++)
            order->pieces[order->tables[t].first + i].table = t;
    ks_id_list list = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    ks_ids_unique(&list, nodes.nodes, reading);
    supports_referred(reading, &nodes, order);
    ks_named_only_tell(reading, node);
    ks_worths_set(order, reading->fields.arena);
}
