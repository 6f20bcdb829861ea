#include "studio/kilns/kiln_file.h"
#include "studio/kilns/kiln_line.h"
#include "studio/files/order_file.h"

#include "base/file.h"
#include "base/opened.h"
#include "base/text.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_KILNS = 100, MOST_LOADS = KS_MOST_LOADS };

typedef struct {
    int loads;
} told_loads;

static const ks_field entry_fields[] = {
    KS_FIELD_KNOWN("kiln"),
    KS_FIELD(WHOLE, told_loads, loads, "loads", .least = 1, .most = MOST_LOADS),
    KS_FIELD_KNOWN("dates"),
    KS_FIELD_KNOWN("firings"),
    KS_FIELD_KNOWN("slots"),
};

static const ks_field slot_fields[] = {
    KS_FIELD_KNOWN("firing"),
    KS_FIELD(DATE, ks_slot, day, "date"),
};

static const ks_field date_field = {.kind = KS_FIELD_DATE};

typedef struct {
    ks_order *order;
    int kilns_room, slots_room;
} kiln_lists;

static void add_slot(ks_reading *reading, kiln_lists *lists, ks_slot slot)
{
    ks_order *order = lists->order;
    order->slots =
        KS_GROW(reading->fields.arena, order->slots, order->n_slots, &lists->slots_room, ks_slot);
    order->slots[order->n_slots++] = slot;
}

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* Names of the kilns in a folder, in order; none if it cannot be opened. */
static int kiln_names(const char *folder, ks_arena *arena, const char ***names)
{
    int n = 0, room = 0;
    *names = NULL;
    DIR *dir = ks_opened_look(folder, false, NULL) ? NULL : opendir(folder);
    if (!dir)
        return 0;
    for (struct dirent *entry; (entry = readdir(dir));) {
        if (!ks_path_ends(entry->d_name, ".json"))
            continue;
        *names = KS_GROW(arena, *names, n, &room, const char *);
        (*names)[n++] = ks_arena_text_n(arena, entry->d_name, strlen(entry->d_name) - 5);
    }
    (void)closedir(dir);
    if (n > 1)
        qsort(*names, (size_t)n, sizeof **names, by_text);
    return n;
}

static void note_no_kiln(ks_reading *reading, const ks_json *node, const char *name)
{
    const char **names;
    const char *folder = reading->kiln_folder ? reading->kiln_folder : ".";
    if (!*folder) {
        ks_json_fail(
            node, reading->fields.err,
            "found \"%.80s\", but there is no such kiln beside the order, and the program's "
            "own kilns are not where it is (a folder \"kilns\" beside its own); name a "
            "kiln's file, or describe the kiln here",
            name);
        return;
    }
    int n = kiln_names(folder, reading->fields.arena, &names);
    const char *nearest = ks_nearest(name, names, n);
    ks_json_fail(
        node, reading->fields.err,
        "found \"%.80s\", but there is no such kiln, neither beside the order nor in %s; %s%s",
        name, folder, nearest ? "the nearest is " : "name a kiln's file, or one of that folder",
        nearest ? nearest : "");
}

static void hide_warn_of(ks_reading *reading, const ks_json *node, const char *own,
                         const char *hidden)
{
    if (ks_path_is_free(hidden) || ks_path_is_same(own, hidden))
        return;
    ks_warn(
        reading, node,
        "the kiln is read from %s and not from %s, which it hides; name it \"%s\" if it is meant",
        own, hidden, ks_path_name(own));
}

/* The kiln's file: as named beside the order, there with .json, or in the kiln folder, which is
 * looked into only where there is no such file beside the order. NULL after noting why not. */
static const ks_json *kiln_file(ks_reading *reading, const ks_json *node, const char *name)
{
    ks_arena *arena = reading->fields.arena;
    const char *with_ending =
        ks_path_ends(name, ".json") ? name : ks_arena_print(arena, "%s.json", name);
    const char *places[] = {
        ks_path_join(reading->folder, with_ending, arena),
        reading->kiln_folder ? ks_path_join(reading->kiln_folder, with_ending, arena) : NULL};
    int found = !ks_path_is_free(places[0]) ? 0 : places[1] && !ks_path_is_free(places[1]) ? 1 : -1;
    if (found < 0)
        note_no_kiln(reading, node, name);
    if (found == 0 && places[1] && with_ending != name)
        hide_warn_of(reading, node, places[0], places[1]);
    const ks_json *file;
    if (found < 0 || ks_json_read(places[found], arena, &file, reading->fields.err) ||
        ks_format_check(file, "kilnstow-kiln/1", reading->fields.err))
        return NULL;
    ks_note_read(reading, places[found]);
    return file;
}

/* Place of the kiln whose object this is; read once, however often it is named. -1 after noting
 * what is wrong with it. */
static int place_kiln(ks_reading *reading, const ks_json *object, kiln_lists *lists)
{
    ks_order *order = lists->order;
    ks_error *err = reading->fields.err;
    int before = err->count;
    const ks_json *id = ks_json_get(object, "id");
    ks_id_list list = KS_ID_LIST("kiln", order->kilns, order->n_kilns);
    int known = id && id->kind == KS_JSON_TEXT ? ks_id_place(&list, id->text) : -1;
    if (known >= 0)
        return known;
    ks_kiln kiln;
    ks_kiln_read_node(reading, object, &kiln);
    if (err->count > before)
        return -1;
    order->kilns =
        KS_GROW(reading->fields.arena, order->kilns, order->n_kilns, &lists->kilns_room, ks_kiln);
    order->kilns[order->n_kilns] = kiln;
    return order->n_kilns++;
}

static int name_kiln(ks_reading *reading, const ks_json *node, kiln_lists *lists)
{
    if (node->kind == KS_JSON_OBJECT)
        return place_kiln(reading, node, lists);
    if (node->kind != KS_JSON_TEXT) {
        ks_json_fail(node, reading->fields.err,
                     "found %s; the name of a kiln or of its file is needed",
                     ks_json_found(node).words);
        return -1;
    }
    const ks_json *file = kiln_file(reading, node, node->text);
    return file ? place_kiln(reading, file, lists) : -1;
}

static int firing_referred(ks_reading *reading, const ks_json *node, const ks_order *order)
{
    ks_id_list firings = KS_ID_LIST("firing", order->firings, order->n_firings);
    return ks_id_refer(node, &firings, reading->fields.err);
}

/* Where no firing is told: the only one there is, or any of them. */
static int usual_firing(const ks_order *order)
{
    return order->n_firings == 1 ? 0 : -1;
}

static void tell_slots(ks_reading *reading, const ks_json *list, int kiln, kiln_lists *lists)
{
    if (ks_array_check(list, 0, MOST_LOADS, reading->fields.err) != KS_OK)
        return;
    for (int i = 0; i < list->n; i++) {
        ks_slot slot = {kiln, usual_firing(lists->order), KS_NO_DAY};
        KS_FIELDS_READ(&list->items[i], slot_fields, &reading->fields, &slot);
        const ks_json *firing = ks_json_get(&list->items[i], "firing");
        if (firing)
            slot.firing = firing_referred(reading, firing, lists->order);
        add_slot(reading, lists, slot);
    }
}

/* How many loads an entry means: as told, or one for each date, or one. */
static int loads_of(ks_reading *reading, const ks_json *entry, int told)
{
    const ks_json *dates = ks_json_get(entry, "dates");
    if (!dates || ks_array_check(dates, 1, MOST_LOADS, reading->fields.err) != KS_OK)
        return told > 0 ? told : 1;
    if (told > 0 && told != dates->n)
        ks_json_fail(dates, reading->fields.err,
                     "found %d dates for %d loads; give one for each load", dates->n, told);
    return dates->n;
}

/* One firing for all loads of an entry, or one for each. */
static const ks_json *firing_of_load(ks_reading *reading, const ks_json *entry, int load, int loads)
{
    const ks_json *firings = ks_json_get(entry, "firings");
    if (!firings || firings->kind != KS_JSON_ARRAY)
        return NULL;
    if (load == 0 && firings->n != 1 && firings->n != loads)
        ks_json_fail(firings, reading->fields.err,
                     "found %d firings for %d loads; give one for all, or one for each load",
                     firings->n, loads);
    return firings->n == 1 ? &firings->items[0] : load < firings->n ? &firings->items[load] : NULL;
}

static void tell_loads(ks_reading *reading, const ks_json *entry, int told, int kiln,
                       kiln_lists *lists)
{
    const ks_json *dates = ks_json_get(entry, "dates"), *firings = ks_json_get(entry, "firings");
    int loads = loads_of(reading, entry, told);
    if (firings)
        ks_array_check(firings, 1, MOST_LOADS, reading->fields.err);
    for (int i = 0; i < loads; i++) {
        ks_slot slot = {kiln, usual_firing(lists->order), KS_NO_DAY};
        const ks_json *firing = firing_of_load(reading, entry, i, loads);
        if (dates && dates->kind == KS_JSON_ARRAY && i < dates->n)
            ks_field_value(&dates->items[i], &date_field, &reading->fields, &slot.day);
        if (firing && (i == 0 || firings->n > 1))
            slot.firing = firing_referred(reading, firing, lists->order);
        else if (firing)
            slot.firing = lists->order->slots[lists->order->n_slots - 1].firing;
        add_slot(reading, lists, slot);
    }
}

static void read_entry(ks_reading *reading, const ks_json *entry, kiln_lists *lists)
{
    told_loads told = {0};
    bool plain = entry->kind != KS_JSON_OBJECT || ks_json_get(entry, "chamber");
    const ks_json *named = plain ? entry : ks_json_get(entry, "kiln");
    if (ks_kiln_line_is(entry)) {
        named = ks_kiln_line_read(reading, entry, &told.loads);
        if (!named)
            return;
    } else if (!plain)
        KS_FIELDS_READ(entry, entry_fields, &reading->fields, &told);
    if (!named) {
        ks_json_lacks(entry, "kiln", reading->fields.err, "the name of a kiln or of its file");
        return;
    }
    int kiln = name_kiln(reading, named, lists);
    const ks_json *slots = plain ? NULL : ks_json_get(entry, "slots");
    if (slots)
        tell_slots(reading, slots, kiln, lists);
    else
        tell_loads(reading, plain ? NULL : entry, told.loads, kiln, lists);
}

static int by_day_then_kiln(const ks_slot *first, const ks_slot *second)
{
    if (first->day != second->day)
        return first->day < second->day ? -1 : 1;
    return (first->kiln > second->kiln) - (first->kiln < second->kiln);
}

/* Insertion, so that loads alike in day and kiln keep their order. */
static void sort_slots(ks_order *order)
{
    for (int i = 1; i < order->n_slots; i++) {
        ks_slot slot = order->slots[i];
        int j = i;
        for (; j > 0 && by_day_then_kiln(&order->slots[j - 1], &slot) > 0; j--)
            order->slots[j] = order->slots[j - 1];
        order->slots[j] = slot;
    }
}

void ks_kilns_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    ks_error *err = reading->fields.err;
    kiln_lists lists = {.order = order};
    const ks_json *kilns = ks_json_get(node, "kilns");
    if (!kilns) {
        ks_json_lacks(node, "kilns", err, "at least one: [\"round-580\"]");
        return;
    }
    if (ks_array_check(kilns, 1, MOST_KILNS, err) != KS_OK)
        return;
    for (int i = 0; i < kilns->n; i++)
        read_entry(reading, &kilns->items[i], &lists);
    if (order->n_slots > MOST_LOADS)
        ks_json_fail(kilns, err, "found %d loads in all; %d are the most", order->n_slots,
                     MOST_LOADS);
    sort_slots(order);
}

static void write_slots(ks_json_out *out, const ks_order *order, int kiln)
{
    ks_out_array(out, "slots");
    for (int i = 0; i < order->n_slots; i++) {
        if (order->slots[i].kiln != kiln)
            continue;
        ks_out_object_flat(out, NULL);
        if (order->slots[i].firing >= 0)
            ks_out_text(out, "firing", order->firings[order->slots[i].firing].id);
        KS_FIELDS_WRITE(out, slot_fields, 0, &order->slots[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}

void ks_kilns_write(ks_json_out *out, const ks_order *order)
{
    ks_out_array(out, "kilns");
    for (int i = 0; i < order->n_kilns; i++) {
        ks_out_object(out, NULL);
        ks_kiln_write(out, "kiln", &order->kilns[i]);
        write_slots(out, order, i);
        ks_out_end(out);
    }
    ks_out_end(out);
}
