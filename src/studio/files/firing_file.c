#include "studio/files/order_file.h"

#include "studio/names.h"

enum { MOST_FIRINGS = 100, MOST_SCHEDULES = 200, MOST_SEGMENTS = 32 };

/* Where every schedule starts; only tells heating from cooling in the first segment. */
static const double room_c = 20;

static const ks_field firing_fields[] = {
    KS_FIELD(NAME, ks_firing, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("cone"),
    KS_FIELD(TEMP, ks_firing, top_temp_c, "top", .least = 100, .most = 1900),
    KS_FIELD(TEXT, ks_firing, atmosphere, "atmosphere", .most = 20),
    KS_FIELD(TEXT, ks_firing, schedule, "schedule", .most = 200),
};

/* Of a schedule within an order; the last two only of one in a file of its own. */
static const ks_field schedule_fields[] = {
    KS_FIELD(NAME, ks_schedule, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_schedule, purpose, "purpose", .most = 400),
    KS_FIELD_KNOWN("segments"),
    KS_FIELD_KNOWN("end_cone"),
    KS_FIELD_KNOWN("format"),
    KS_FIELD_KNOWN("units"),
};
enum {
    SCHEDULE_FILE_FIELDS = sizeof schedule_fields / sizeof *schedule_fields,
    SCHEDULE_FIELDS = SCHEDULE_FILE_FIELDS - 2
};

typedef struct {
    double rate_c_h, to_c, hold_s;
} told_segment;

static const ks_field segment_fields[] = {
    KS_FIELD(RATE, told_segment, rate_c_h, "rate", .least = -5000, .most = 5000),
    KS_FIELD(TEMP, told_segment, to_c, "to", .required = true, .least = 0, .most = 1900),
    KS_FIELD(TIME, told_segment, hold_s, "hold", .most = 100 * 3600.0),
};

void ks_firing_read(ks_reading *reading, const ks_json *node, void *into)
{
    ks_firing *firing = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    *firing = (ks_firing){
        .cone = "", .top_temp_c = KS_NOT_TOLD, .atmosphere = "oxidation", .schedule = ""};
    KS_FIELDS_READ(node, firing_fields, &reading->fields, firing);
    const ks_json *cone = ks_json_get(node, "cone");
    if (cone)
        firing->cone = ks_cone_read(cone, err);
    if (!firing->cone)
        firing->cone = "";
    ks_word_check(node, "atmosphere", KS_ATMOSPHERE_WORDS, err);
    if (cone && !isnan(firing->top_temp_c))
        ks_json_fail(node, err, "found both \"cone\" and \"top\"; a firing ends by one of them");
    else if (!cone && isnan(firing->top_temp_c) && err->count == before)
        ks_json_lacks(node, "cone", err,
                      "by which cone it ends (\"6\"), or \"top\", by which "
                      "temperature");
    if (isnan(firing->top_temp_c))
        firing->top_temp_c = 0;
    if (!*firing->atmosphere)
        firing->atmosphere = "oxidation";
}

/* A rate's sign follows from where it leads; a told minus must agree. */
static void sign_segments(const ks_json *list, ks_schedule *schedule, ks_error *err)
{
    double from = room_c;
    for (int i = 0; i < schedule->n_segments; i++) {
        ks_segment *segment = &schedule->segments[i];
        if (segment->target_c < from)
            segment->rate_c_h = -fabs(segment->rate_c_h);
        else if (segment->rate_c_h < 0)
            ks_json_fail(&list->items[i], err,
                         "found a rate of %g C/h towards %g C, from %g C; "
                         "only a lower temperature is cooled to",
                         segment->rate_c_h, segment->target_c, from);
        from = segment->target_c;
    }
}

static void read_segment(ks_reading *reading, const ks_json *node, void *into)
{
    told_segment told = {0};
    KS_FIELDS_READ(node, segment_fields, &reading->fields, &told);
    *(ks_segment *)into = (ks_segment){told.rate_c_h, told.to_c, told.hold_s / 3600};
}

static void schedule_with_fields(ks_reading *reading, const ks_json *node, int n_fields,
                                 ks_schedule *schedule)
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    *schedule = (ks_schedule){.purpose = "", .end_cone = ""};
    ks_fields_read(node, schedule_fields, n_fields, &reading->fields, schedule);
    const ks_json *segments = ks_json_get(node, "segments"), *end = ks_json_get(node, "end_cone");
    if (end)
        schedule->end_cone = ks_cone_read(end, err);
    if (!schedule->end_cone)
        schedule->end_cone = "";
    schedule->segments = ks_list_read(reading, segments, MOST_SEGMENTS, sizeof(ks_segment),
                                      read_segment, &schedule->n_segments);
    if (err->count > before)
        return;
    if (schedule->n_segments == 0)
        ks_json_lacks(node, "segments", err, "at least one: [{\"rate\": …, \"to\": …}]");
    else
        sign_segments(segments, schedule, err);
}

static void read_schedule(ks_reading *reading, const ks_json *node, void *into)
{
    schedule_with_fields(reading, node, SCHEDULE_FIELDS, into);
}

static void schedules_referred(ks_reading *reading, const ks_json *firings, const ks_order *order)
{
    ks_id_list list = KS_ID_LIST("schedule", order->schedules, order->n_schedules);
    for (int i = 0; i < order->n_firings; i++) {
        const ks_json *schedule = ks_json_get(&firings->items[i], "schedule");
        if (!schedule || schedule->kind != KS_JSON_TEXT || !*schedule->text)
            continue;
        int place = ks_id_refer(schedule, &list, reading->fields.err);
        if (place >= 0)
            order->firings[i].schedule = order->schedules[place].id;
    }
}

void ks_firings_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    const ks_json *firings = ks_json_get(node, "firings");
    ks_error *err = reading->fields.err;
    int before = err->count;
    order->schedules =
        ks_named_list_read(reading, ks_json_get(node, "schedules"), "schedule", MOST_SCHEDULES,
                           sizeof(ks_schedule), read_schedule, &order->n_schedules);
    order->firings = ks_named_list_read(reading, firings, "firing", MOST_FIRINGS, sizeof(ks_firing),
                                        ks_firing_read, &order->n_firings);
    schedules_referred(reading, firings, order);
    if (order->n_firings == 0 && err->count == before)
        ks_json_lacks(node, "firings", err, "at least one: [{\"id\": \"glaze\", \"cone\": \"6\"}]");
}

void ks_firing_fields_write(ks_json_out *out, const ks_firing *firing)
{
    ks_firing written = *firing;
    if (*firing->cone) {
        ks_out_text(out, "cone", firing->cone);
        written.top_temp_c = KS_NOT_TOLD;
    }
    KS_FIELDS_WRITE(out, firing_fields, 0, &written);
}

static void write_schedule(ks_json_out *out, const ks_schedule *schedule)
{
    ks_out_object(out, NULL);
    KS_FIELDS_WRITE(out, schedule_fields, 0, schedule);
    if (*schedule->end_cone)
        ks_out_text(out, "end_cone", schedule->end_cone);
    ks_out_array(out, "segments");
    for (int i = 0; i < schedule->n_segments; i++) {
        const ks_segment *segment = &schedule->segments[i];
        told_segment told = {segment->rate_c_h, segment->target_c,
                             round(segment->hold_h * 3600 * 1000) / 1000};
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, segment_fields, 0, &told);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
}

void ks_firings_write(ks_json_out *out, const ks_order *order)
{
    ks_out_array(out, "firings");
    for (int i = 0; i < order->n_firings; i++) {
        ks_out_object_flat(out, NULL);
        ks_firing_fields_write(out, &order->firings[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_array(out, "schedules");
    for (int i = 0; i < order->n_schedules; i++)
        write_schedule(out, &order->schedules[i]);
    ks_out_end(out);
}

ks_status ks_schedule_read(const char *path, ks_arena *arena, ks_schedule *out, ks_error *err)
{
    ks_error own = {0};
    ks_reading reading = {.fields = {.arena = arena, .err = err ? err : &own}};
    const ks_json *file;
    ks_status status = ks_json_read(path, arena, &file, reading.fields.err);
    if (!status)
        status = ks_format_check(file, "kilnstow-schedule/1", reading.fields.err);
    if (!status)
        status = ks_units_read(file, &reading.fields.units, reading.fields.err);
    if (status)
        return status;
    schedule_with_fields(&reading, file, SCHEDULE_FILE_FIELDS, out);
    return reading.fields.err->count > 0 ? reading.fields.err->status : KS_OK;
}

const ks_schedule *ks_order_schedule(const ks_order *order, const char *id)
{
    ks_id_list schedules = KS_ID_LIST("schedule", order->schedules, order->n_schedules);
    int place = id ? ks_id_place(&schedules, id) : -1;
    return place < 0 ? NULL : &order->schedules[place];
}
