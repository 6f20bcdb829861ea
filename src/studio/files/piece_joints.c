/* Where a form of parts is joined: wet, into one piece; or fired apart, to another piece. */
#include "studio/files/piece_file.h"

#include <string.h>

enum { JOINTS_MOST = 16 };

static const ks_field joint_field = {.kind = KS_FIELD_LENGTH, .least = 1, .most = 5000};

void ks_joints_read(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_json *joints = ks_json_get(node, "joints");
    ks_error *err = reading->fields.err;
    if (!joints || ks_array_check(joints, 1, JOINTS_MOST, err) != KS_OK)
        return;
    piece->joints_mm = KS_TAKE(reading->fields.arena, joints->n, double);
    for (int i = 0; i < joints->n; i++)
        if (ks_field_value(&joints->items[i], &joint_field, &reading->fields,
                           &piece->joints_mm[piece->n_joints]) == KS_OK)
            piece->n_joints++;
}

void ks_joints_check(ks_reading *reading, const ks_json *node, const ks_piece *piece)
{
    const ks_json *joints = ks_json_get(node, "joints");
    double top = piece->height_mm - piece->setter_mm;
    for (int i = 0; joints && i < piece->n_joints; i++) {
        double at = piece->joints_mm[i];
        if (at >= top)
            ks_json_fail(&joints->items[i], reading->fields.err,
                         "found a joint at %g mm; joints are below its top, which is at %g mm", at,
                         top);
        else if (i > 0 && at <= piece->joints_mm[i - 1])
            ks_json_fail(&joints->items[i], reading->fields.err,
                         "found a joint at %g mm after one at %g; joints are told from below", at,
                         piece->joints_mm[i - 1]);
    }
}

void ks_joints_refer(ks_reading *reading, const ks_json *node, const ks_order *order, int piece)
{
    ks_id_list pieces = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    const ks_json *to = ks_json_get(node, "joined_to");
    if (!to || !order->pieces[piece].joined_to)
        return;
    int place = ks_id_refer(to, &pieces, reading->fields.err);
    if (place == piece)
        ks_json_fail(to, reading->fields.err, "it cannot be joined to itself");
    else if (place >= 0 && order->pieces[place].joined_to &&
             strcmp(order->pieces[place].joined_to, order->pieces[piece].id) == 0)
        ks_json_fail(to, reading->fields.err,
                     "found \"%s\", which is joined to %s in turn; only the upper of two is joined "
                     "to the lower",
                     order->pieces[place].id, order->pieces[piece].id);
}

void ks_joints_write(ks_json_out *out, const ks_piece *piece)
{
    if (piece->n_joints == 0)
        return;
    ks_out_array_flat(out, "joints");
    for (int i = 0; i < piece->n_joints; i++)
        ks_out_number(out, NULL, piece->joints_mm[i]);
    ks_out_end(out);
}
