#include "studio/files/order_file.h"

#include "base/money_text.h"
#include "base/file.h"
#include "base/text.h"
#include "studio/terms/costs_file.h"
#include "studio/files/hours_file.h"
#include "studio/files/piece_file.h"
#include "studio/files/recipe_file.h"
#include "studio/files/sizing.h"
#include "studio/files/ware_columns.h"

#include <string.h>

static const ks_field order_fields[] = {
    KS_FIELD_KNOWN("format"),
    KS_FIELD(TEXT, ks_order, title, "title", .most = 400),
    KS_FIELD(TEXT, ks_order, studio, "studio", .most = 400),
    KS_FIELD(TEXT, ks_order, note, "note", .most = 4096),
    KS_FIELD_KNOWN("currency"),
    KS_FIELD_KNOWN("units"),
    KS_FIELD_KNOWN("display"),
    KS_FIELD_KNOWN("kilns"),
    KS_FIELD_KNOWN("firings"),
    KS_FIELD_KNOWN("schedules"),
    KS_FIELD_KNOWN("clays"),
    KS_FIELD_KNOWN("materials"),
    KS_FIELD_KNOWN("glazes"),
    KS_FIELD_KNOWN("members"),
    KS_FIELD_KNOWN("ware"),
    KS_FIELD_KNOWN("ware_files"),
    KS_FIELD_KNOWN("columns"),
    KS_FIELD_KNOWN("families"),
    KS_FIELD_KNOWN("rules"),
    KS_FIELD_KNOWN("costs"),
    KS_FIELD_KNOWN("time_zone"),
    KS_FIELD_KNOWN("start"),
    KS_FIELD_KNOWN("opening_hours"),
    KS_FIELD(TIME, ks_order, loading_s, "loading", .most = 86400),
    KS_FIELD(TIME, ks_order, unloading_s, "unloading", .most = 86400),
};

static const ks_field display_fields[] = {
    KS_FIELD(TEXT, ks_display, length, "length", .most = 8),
    KS_FIELD(TEXT, ks_display, mass, "mass", .most = 8),
    KS_FIELD(TEXT, ks_display, temp, "temperature", .most = 8),
};

static void read_currency(ks_reading *reading, const ks_json *node, ks_order *order)
{
    const ks_json *currency = ks_json_get(node, "currency");
    order->currency = "EUR";
    reading->fields.minor_digits = 2;
    if (!currency)
        return;
    int digits = currency->kind == KS_JSON_TEXT ? ks_currency_digits(currency->text) : -1;
    if (digits < 0) {
        ks_json_fail(currency, reading->fields.err,
                     "found %s; an ISO 4217 code is needed, such as \"EUR\" or \"USD\"",
                     ks_json_found(currency).words);
        return;
    }
    order->currency = currency->text;
    reading->fields.minor_digits = digits;
}

/* Sheets answer in the units that the order is written in, or in their nearest of kin. */
static ks_display display_of(const ks_units *units)
{
    const char *length = units->length ? units->length : "mm";
    const char *mass = units->mass ? units->mass : "kg";
    const char *temp = units->temp ? units->temp : "C";
    return (ks_display){.length = strcmp(length, "m") == 0    ? "cm"
                                  : strcmp(length, "ft") == 0 ? "in"
                                                              : length,
                        .mass = mass,
                        .temp = strcmp(temp, "K") == 0 ? "C" : temp};
}

static void read_display(ks_reading *reading, const ks_json *node, ks_order *order)
{
    const ks_json *display = ks_json_get(node, "display");
    order->display = display_of(&reading->fields.units);
    if (!display)
        return;
    KS_FIELDS_READ(display, display_fields, &reading->fields, &order->display);
    ks_word_check(display, "length", "mm|cm|in", reading->fields.err);
    ks_word_check(display, "mass", "kg|g|lb|oz", reading->fields.err);
    ks_word_check(display, "temperature", "C|F", reading->fields.err);
}

void ks_order_read_node(ks_reading *reading, const ks_json *node, ks_order *order)
{
    ks_error *err = reading->fields.err;
    *order = (ks_order){.file = node->file,
                        .title = "",
                        .studio = "",
                        .note = "",
                        .loading_s = KS_NOT_TOLD,
                        .unloading_s = KS_NOT_TOLD};
    reading->order = order;
    ks_note_read(reading, node->file);
    if (ks_format_check(node, "kilnstow-order/1", err) != KS_OK)
        return;
    ks_units_read(node, &reading->fields.units, err);
    KS_FIELDS_READ(node, order_fields, &reading->fields, order);
    read_currency(reading, node, order);
    read_display(reading, node, order);
    ks_firings_read(reading, node, order);
    ks_kilns_read(reading, node, order);
    ks_recipes_read(reading, node, order);
    ks_members_read(reading, node, order);
    ks_costs_read(reading, node, order);
    ks_subscribers_check(reading, node, order);
    ks_hours_read(reading, node, order);
    ks_rules_read(reading, node, order);
    ks_columns_read(reading, ks_json_get(node, "columns"));
    ks_families_read(reading, ks_json_get(node, "families"));
    ks_ware_read(reading, node, order);
    ks_tag_rules_read(reading, node, order);
}

ks_status ks_order_read(const char *path, const char *kiln_folder, ks_arena *arena, ks_order **out,
                        ks_error *err)
{
    return ks_order_read_columns(path, kiln_folder, NULL, arena, out, err);
}

/* What people try first. */
static bool is_table(const char *path)
{
    static const char *const endings[] = {".csv", ".tsv", ".xlsx", ".xls", ".ods"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (ks_path_ends(path, endings[i]))
            return true;
    return false;
}

static ks_status refuse_table(const char *path, ks_error *err)
{
    return ks_fail(
        err, KS_BAD_INPUT,
        "%s: found a table of ware; an order names it: {\"format\": "
        "\"kilnstow-order/1\", \"units\": {\"length\": \"cm\"}, \"kilns\": [\"round-580\"], "
        "\"firings\": [{\"id\": \"glaze\", \"cone\": \"6\"}], \"ware_files\": [\"%s\"]}",
        path, ks_path_name(path));
}

ks_status ks_order_read_columns(const char *path, const char *kiln_folder, const char *columns,
                                ks_arena *arena, ks_order **out, ks_error *err)
{
    ks_error own = {0};
    ks_reading reading = {.fields = {.arena = arena, .err = err ? err : &own},
                          .folder = ks_path_folder(path, arena),
                          .kiln_folder = kiln_folder};
    const ks_json *file;
    ks_status status = ks_columns_parse(&reading, columns ? columns : "");
    if (!status)
        status = is_table(path) ? refuse_table(path, reading.fields.err)
                                : ks_json_read(path, arena, &file, reading.fields.err);
    if (status != KS_OK)
        return status;
    int before = reading.fields.err->count;
    ks_order *order = KS_TAKE(arena, 1, ks_order);
    ks_order_read_node(&reading, file, order);
    if (reading.fields.err->count > before)
        return reading.fields.err->status;
    *out = order;
    return KS_OK;
}

void ks_order_write(ks_json_out *out, const char *key, const ks_order *order)
{
    ks_out_object(out, key);
    ks_out_text(out, "format", "kilnstow-order/1");
    KS_FIELDS_WRITE(out, order_fields, 0, order);
    ks_out_text(out, "currency", order->currency);
    ks_out_object_flat(out, "units");
    ks_out_text(out, "length", "mm");
    ks_out_text(out, "mass", "kg");
    ks_out_text(out, "temperature", "C");
    ks_out_end(out);
    ks_out_object_flat(out, "display");
    KS_FIELDS_WRITE(out, display_fields, 0, &order->display);
    ks_out_end(out);
    ks_kilns_write(out, order);
    ks_firings_write(out, order);
    ks_recipes_write(out, order);
    ks_members_write(out, order);
    ks_costs_write(out, order);
    ks_hours_write(out, order);
    ks_rules_write(out, order);
    ks_out_array(out, "ware");
    for (int i = 0; i < order->n_pieces; i++)
        ks_piece_write(out, order, &order->pieces[i]);
    ks_out_end(out);
    ks_out_end(out);
}
