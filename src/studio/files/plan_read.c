#include "studio/kilns/kiln_file.h"
#include "studio/files/order_file.h"
#include "studio/files/plan_file.h"
#include "studio/files/reason_file.h"

#include "base/file.h"
#include "studio/names.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_LOADS = 1000 };

/* A plan carries each piece with its outlines: a load of 5,000 pieces of 256 corners takes 10 MB.
 */
enum { PLAN_LARGEST = 32 * 1024 * 1024 };

static const ks_field plan_fields[] = {
    KS_FIELD_KNOWN("format"),
    KS_FIELD(TEXT, ks_plan, version, "version", .required = true, .most = 100),
    KS_FIELD_KNOWN("seed"),
    KS_FIELD(WHOLE, ks_plan, rounds, "rounds", .required = true),
    KS_FIELD(TEXT, ks_plan, stopped_by, "stopped_by", .required = true, .most = 100),
    KS_FIELD_KNOWN("order"),
    KS_FIELD(WORD, ks_plan, objective, "objective", .required = true, .words = KS_OBJECTIVE_WORDS),
    KS_FIELD(NUMBER, ks_plan, worth, "worth", .required = true),
    KS_FIELD(NUMBER, ks_plan, bound, "bound", .required = true),
    KS_FIELD(TEXT, ks_plan, bound_kind, "bound_kind", .most = 400),
    KS_FIELD_KNOWN("bound_gap"),
    KS_FIELD(WHOLE, ks_plan, loads_at_least, "loads_at_least", .least = 0, .most = 1000000),
    KS_FIELD_KNOWN("loads"),
    KS_FIELD_KNOWN("left_out"),
};

static const ks_field left_out_fields[] = {
    KS_FIELD(NAME, ks_left_out, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(WHOLE, ks_left_out, count, "count", .required = true),
    KS_FIELD(TEXT, ks_left_out, why, "why", .required = true, .most = 100),
    KS_FIELD(TEXT, ks_left_out, detail, "detail", .most = 1000),
    KS_FIELD(TEXT, ks_left_out, nearest, "nearest", .required = true, .most = 1000),
    KS_FIELD_KNOWN("rule"),
    KS_FIELD_KNOWN("change"),
};

static void read_left_out(ks_reading *reading, const ks_json *node, void *into)
{
    ks_left_out *left = into;
    left->detail = "";
    KS_FIELDS_READ(node, left_out_fields, &reading->fields, left);
    ks_reason_read(reading, ks_json_get(node, "rule"), &left->rule);
    ks_reason_read(reading, ks_json_get(node, "change"), &left->change);
    ks_id_list pieces = KS_ID_LIST("piece", reading->order->pieces, reading->order->n_pieces);
    left->piece = left->id ? ks_id_place(&pieces, left->id) : -1;
}

static void read_seed(ks_reading *reading, const ks_json *plan_node, ks_plan *plan)
{
    const ks_json *node = ks_needed(reading, plan_node, "seed", "a whole number");
    if (!node)
        return;
    if (node->kind != KS_JSON_NUMBER || strspn(node->text, "-0123456789") != strlen(node->text)) {
        ks_json_fail(node, reading->fields.err, "found %s; a whole number is needed",
                     ks_json_found(node).words);
        return;
    }
    plan->seed = (uint64_t)strtoll(node->text, NULL, 10);
}

/* Worked out anew from worth and bound; null where there is none. */
static void check_gap(ks_reading *reading, const ks_json *node)
{
    static const ks_field number = {.kind = KS_FIELD_NUMBER};
    double unused;
    if (node && node->kind != KS_JSON_NULL)
        (void)ks_field_value(node, &number, &reading->fields, &unused);
}

static ks_order *read_order(ks_reading *reading, const ks_json *file)
{
    ks_order *order = KS_TAKE(reading->fields.arena, 1, ks_order);
    const ks_json *node = ks_needed(reading, file, "order", "the order that it answers, whole");
    reading->order = order;
    if (node)
        ks_order_read_node(reading, node, order);
    return order;
}

/* `known`: the order that it answers; NULL = the file has it. */
static void read_plan_node(ks_reading *reading, const ks_json *file, ks_order *known, ks_plan *plan)
{
    const ks_units plans_own = {"mm", "kg", "C"};
    plan->bound_kind = "";
    reading->fields.units = plans_own;
    KS_FIELDS_READ(file, plan_fields, &reading->fields, plan);
    read_seed(reading, file, plan);
    check_gap(reading, ks_json_get(file, "bound_gap"));
    reading->order = known ? known : read_order(reading, file);
    plan->order = reading->order;
    reading->fields.units = plans_own;
    plan->loads =
        ks_list_read(reading, ks_needed(reading, file, "loads", "the loads planned, or []"),
                     MOST_LOADS, sizeof(ks_load), ks_load_read, &plan->n_loads);
    plan->left_out =
        ks_list_read(reading, ks_needed(reading, file, "left_out", "what waits and why, or []"),
                     KS_MOST_PIECES, sizeof(ks_left_out), read_left_out, &plan->n_left_out);
}

static ks_status plan_of(const char *path, const ks_json *file, ks_order *known, ks_arena *arena,
                         ks_plan **out, ks_error *err)
{
    ks_error own = {0};
    ks_reading reading = {.fields = {.arena = arena, .err = err ? err : &own},
                          .folder = ks_path_folder(path, arena)};
    ks_status status = ks_format_check(file, "kilnstow-plan/1", reading.fields.err);
    if (status != KS_OK)
        return status;
    int before = reading.fields.err->count;
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    read_plan_node(&reading, file, known, plan);
    if (reading.fields.err->count > before)
        return reading.fields.err->status;
    *out = plan;
    return KS_OK;
}

ks_status ks_plan_parse(const char *name, const char *text, size_t length, ks_arena *arena,
                        ks_plan **out, ks_error *err)
{
    const ks_json *file;
    ks_status status =
        ks_json_parse_most(name, (ks_bytes){text, length}, PLAN_LARGEST, arena, &file, err);
    return status ? status : plan_of(name, file, NULL, arena, out, err);
}

ks_status ks_plan_brief_parse(const char *text, const ks_order *order, ks_arena *arena,
                              ks_plan **out, ks_error *err)
{
    const ks_json *file;
    ks_order *known = KS_TAKE(arena, 1, ks_order);
    *known = *order;
    ks_status status = ks_json_parse_most("the plan", (ks_bytes){text, strlen(text)}, PLAN_LARGEST,
                                          arena, &file, err);
    return status ? status : plan_of("the plan", file, known, arena, out, err);
}

ks_status ks_plan_read(const char *path, ks_arena *arena, ks_plan **out, ks_error *err)
{
    const ks_json *file;
    ks_status status = ks_json_read_most(path, PLAN_LARGEST, arena, &file, err);
    return status ? status : plan_of(path, file, NULL, arena, out, err);
}
