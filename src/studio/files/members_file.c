#include "studio/files/order_file.h"

#include "base/text.h"

enum { MOST_MEMBERS = 1000 };

static const ks_field member_fields[] = {
    KS_FIELD(NAME, ks_member, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_member, name, "name", .most = 400),
    KS_FIELD(TEXT, ks_member, initials, "initials", .most = 16),
    KS_FIELD(NUMBER, ks_member, quota_litres, "quota_litres", .most = 1e6),
    KS_FIELD(WHOLE, ks_member, quota_pieces, "quota_pieces", .least = 0, .most = 1e6),
    KS_FIELD(BOOL, ks_member, guest, "guest"),
};

/* The first letters of the first three words. */
static const char *initials_of(const char *name, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    bool starts = true;
    int words = 0;
    for (const char *at = name; *at && words < 3;) {
        uint32_t code = 0;
        int bytes = ks_utf8_next(at, 4, &code);
        if (bytes < 1)
            break;
        if (starts && *at != ' ') {
            ks_text_add_n(&text, at, (size_t)bytes);
            words++;
        }
        starts = *at == ' ' || *at == '-';
        at += bytes;
    }
    return ks_text_end(&text);
}

static void read_member(ks_reading *reading, const ks_json *node, void *into)
{
    ks_member *member = into;
    *member = (ks_member){.name = "", .initials = ""};
    KS_FIELDS_READ(node, member_fields, &reading->fields, member);
    if (!*member->name && member->id)
        member->name = member->id;
    if (!*member->initials)
        member->initials = initials_of(member->name, reading->fields.arena);
}

void ks_members_read(ks_reading *reading, const ks_json *node, ks_order *order)
{
    order->members =
        ks_named_list_read(reading, ks_json_get(node, "members"), "member", MOST_MEMBERS,
                           sizeof(ks_member), read_member, &order->n_members);
}

void ks_members_write(ks_json_out *out, const ks_order *order)
{
    ks_out_array(out, "members");
    for (int i = 0; i < order->n_members; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, member_fields, 0, &order->members[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}
