#include "studio/files/order_file.h"

#include "studio/initials.h"

enum { MOST_MEMBERS = 1000 };

static const ks_field member_fields[] = {
    KS_FIELD(NAME, ks_member, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(TEXT, ks_member, name, "name", .most = 400),
    KS_FIELD(TEXT, ks_member, initials, "initials", .most = 16),
    KS_FIELD(NUMBER, ks_member, quota_litres, "quota_litres", .most = 1e6),
    KS_FIELD(WHOLE, ks_member, quota_pieces, "quota_pieces", .least = 0, .most = 1e6),
    KS_FIELD(BOOL, ks_member, guest, "guest"),
    KS_FIELD(NUMBER, ks_member, discount, "discount", .most = 1),
    KS_FIELD(TEXT, ks_member, subscription, "subscription", .most = 200),
};

static void read_member(ks_reading *reading, const ks_json *node, void *into)
{
    ks_member *member = into;
    *member = (ks_member){.name = "", .initials = "", .subscription = ""};
    KS_FIELDS_READ(node, member_fields, &reading->fields, member);
    if (!*member->name && member->id)
        member->name = member->id;
    if (!*member->initials)
        member->initials = ks_initials(member->name, reading->fields.arena);
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
