#include "studio/files/hours_file.h"

#include "clock/zone.h"
#include "studio/terms/window_file.h"

#include <string.h>

enum { MOST_WINDOWS = 50, MOST_ZONE = 100 };

/* Opening hours as they are told. */
typedef struct {
    double from_s, to_s;
} told_open;

static const ks_field open_fields[] = {
    KS_FIELD_KNOWN("days"),
    KS_FIELD_KNOWN("months"),
    KS_FIELD(TIME, told_open, from_s, "from", .required = true, .most = 86400),
    KS_FIELD(TIME, told_open, to_s, "to", .required = true, .most = 86400),
};

static void read_open(ks_reading *reading, const ks_json *node, void *into)
{
    told_open told = {0};
    KS_FIELDS_READ(node, open_fields, &reading->fields, &told);
    *(ks_window *)into = ks_window_read(reading, node, told.from_s, told.to_s);
}

/* A zone's rule that can be read; NULL, and noted, where it cannot. */
static const char *read_zone(const ks_json *node, ks_error *err)
{
    ks_zone_rule rule;
    if (!node)
        return NULL;
    bool is_text = node->kind == KS_JSON_TEXT && strlen(node->text) <= MOST_ZONE;
    const char *fault = is_text ? ks_zone_rule_parse(node->text, &rule)
                                : "a POSIX rule is needed, such as \"CET-1CEST,M3.5.0,M10.5.0/3\"";
    if (!fault)
        return node->text;
    ks_json_fail(node, err, "found %s; %s", ks_json_found(node).words, fault);
    return NULL;
}

static void read_time_zone(ks_reading *reading, const ks_json *node, ks_order *order)
{
    const ks_json *old_place = ks_json_get(ks_json_get(node, "costs"), "time_zone");
    const char *zone = read_zone(ks_json_get(node, "time_zone"), reading->fields.err);
    const char *old = read_zone(old_place, reading->fields.err);
    if (zone && old && strcmp(zone, old) != 0)
        ks_json_fail(old_place, reading->fields.err,
                     "found \"%s\", and \"%s\" as the order's own time_zone; tell one", old, zone);
    order->zone = zone ? zone : old ? old : "";
}

static void read_start_hour(ks_reading *reading, const ks_json *node, ks_order *order)
{
    double time_s;
    if (!node)
        return;
    order->start_told = node->kind == KS_JSON_TEXT && strlen(node->text) == 5 &&
                        node->text[2] == ':' &&
                        !ks_quantity_parse(KS_TIME, node->text, NULL, &time_s) && time_s < 86400;
    if (order->start_told)
        order->start_min = (int)(time_s / 60);
    else
        ks_json_fail(node, reading->fields.err,
                     "found %s; an hour of the studio's clock is needed, like \"08:00\"",
                     ks_json_found(node).words);
}

void ks_hours_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    read_time_zone(reading, node, order);
    read_start_hour(reading, ks_json_get(node, "start"), order);
    order->open = ks_list_read(reading, ks_json_get(node, "opening_hours"), MOST_WINDOWS,
                               sizeof(ks_window), read_open, &order->n_open);
}

static void write_open(ks_json_out *out, const ks_window *window)
{
    told_open told = {window->from_min * 60.0, window->to_min * 60.0};
    ks_out_object_flat(out, NULL);
    KS_FIELDS_WRITE(out, open_fields, 0, &told);
    ks_window_days_write(out, window);
    ks_out_end(out);
}

void ks_hours_write(ks_json_out *out, const ks_order *order)
{
    if (order->zone && *order->zone)
        ks_out_text(out, "time_zone", order->zone);
    if (order->start_told)
        ks_out_text(out, "start",
                    ks_arena_print(out->text.arena, "%02d:%02d", order->start_min / 60,
                                   order->start_min % 60));
    if (order->n_open > 0) {
        ks_out_array(out, "opening_hours");
        for (int i = 0; i < order->n_open; i++)
            write_open(out, &order->open[i]);
        ks_out_end(out);
    }
}
