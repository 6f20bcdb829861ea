#include "studio/files/reason_file.h"

#include "studio/files/plan_file.h"
#include "studio/names.h"
#include "studio/reading/writing.h"
#include "studio/reason_list.h"

#include <string.h>

static const ks_field reason_fields[] = {
    KS_FIELD_KNOWN("name"),
    KS_FIELD(LENGTH, ks_reason, by_mm, "by"),
    KS_FIELD(LENGTH, ks_reason, length_mm, "length"),
    KS_FIELD(LENGTH, ks_reason, margin_mm, "margin"),
    KS_FIELD(LENGTH, ks_reason, carbide_mm, "carbide"),
    KS_FIELD(LENGTH, ks_reason, wet_mm, "wet"),
    KS_FIELD(LENGTH, ks_reason, room_mm, "room"),
    KS_FIELD(MASS, ks_reason, mass_kg, "mass"),
    KS_FIELD(MASS, ks_reason, most_kg, "most"),
    KS_FIELD(MASS, ks_reason, lifted_kg, "lifted"),
    KS_FIELD(MASS, ks_reason, hoist_kg, "hoist"),
    KS_FIELD(MASS, ks_reason, lost_kg, "lost"),
    KS_FIELD(NUMBER, ks_reason, percent, "percent"),
    KS_FIELD(WHOLE, ks_reason, people, "people"),
    KS_FIELD(WHOLE, ks_reason, load, "load"),
    KS_FIELD(TEXT, ks_reason, level, "level", .most = 200),
    KS_FIELD(TEXT, ks_reason, id, "id", .most = 200),
    KS_FIELD(TEXT, ks_reason, kiln, "kiln", .most = 200),
    KS_FIELD(TEXT, ks_reason, kiln_name, "kiln_name", .most = 200),
    KS_FIELD(TEXT, ks_reason, firing, "firing", .most = 200),
    KS_FIELD(TEXT, ks_reason, member, "member", .most = 200),
    KS_FIELD(TEXT, ks_reason, asks, "asks", .most = 200),
    KS_FIELD(TEXT, ks_reason, has, "has", .most = 200),
    KS_FIELD(TEXT, ks_reason, atmosphere, "atmosphere", .most = 200),
    KS_FIELD(TEXT, ks_reason, fired_in, "fired_in", .most = 200),
    KS_FIELD(TEXT, ks_reason, material, "material", .most = 200),
    KS_FIELD(TEXT, ks_reason, part, "part", .most = 200),
    KS_FIELD(WORD, ks_reason, of, "of", .words = KS_REASON_OF_WORDS),
};
enum { FIELDS = sizeof reason_fields / sizeof *reason_fields };

/* What may be missing though the text names it. */
static bool may_lack(const char *key)
{
    return strcmp(key, "wet") == 0 || strcmp(key, "id") == 0;
}

static void read_figures(ks_reading *reading, const ks_json *node, ks_reason *out)
{
    ks_status status = KS_FIELDS_READ(node, reason_fields, &reading->fields, out);
    for (int i = 1; i < FIELDS && !status; i++)
        if (ks_reason_has(out->name, reason_fields[i].key) && !may_lack(reason_fields[i].key) &&
            !ks_json_get(node, reason_fields[i].key))
            status =
                ks_json_fail(node, reading->fields.err, "found no \"%s\"; \"%s\" is told with it",
                             reason_fields[i].key, ks_reason_entry_of(out->name)->name);
}

void ks_reason_read(ks_reading *reading, const ks_json *node, ks_reason *out)
{
    *out = (ks_reason){.name = KS_UNTOLD};
    if (!node)
        return;
    const ks_json *name = ks_needed(reading, node, "name", "the rule or the change");
    if (name && name->kind == KS_JSON_TEXT)
        out->name = ks_reason_called(name->text);
    if (name && out->name == KS_UNTOLD)
        ks_json_fail(name, reading->fields.err, "found %s; it is none of the list of docs/files.md",
                     ks_json_found(name).words);
    read_figures(reading, node, out);
}

/* No finer than a plan's own lengths: to a thousandth. */
static void write_figure(ks_json_out *out, const ks_field *field, const ks_reason *reason)
{
    if (field->kind == KS_FIELD_LENGTH || field->kind == KS_FIELD_MASS)
        ks_length_write(out, field->key, *(const double *)((const char *)reason + field->at));
    else
        ks_fields_write(out, field, 1, 0, reason);
}

void ks_reason_write(ks_json_out *out, const char *key, const ks_reason *reason)
{
    if (reason->name == KS_UNTOLD)
        return;
    ks_out_object_flat(out, key);
    ks_out_text(out, "name", ks_reason_entry_of(reason->name)->name);
    for (int i = 1; i < FIELDS; i++)
        if (ks_reason_has(reason->name, reason_fields[i].key) &&
            (strcmp(reason_fields[i].key, "wet") != 0 || reason->wet_mm > 0))
            write_figure(out, &reason_fields[i], reason);
    ks_out_end(out);
}
