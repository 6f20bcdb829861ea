/* answer_frame.h: what every command's JSON begins and ends with. */
#ifndef KILNSTOW_APP_ANSWER_FRAME_H
#define KILNSTOW_APP_ANSWER_FRAME_H

#include "base/data/json_out.h"
#include "kilnstow/order.h"

/* Format, version, command and status; the order's warnings (order may be NULL); the ends of result
 * and answer. */
void ks_answer_open(ks_json_out *out, const char *command, const char *status);
void ks_answer_warnings(ks_json_out *out, const ks_order *order);
/* A list of texts. */
void ks_answer_texts(ks_json_out *out, const char *key, int n, const char *const *texts);
const char *ks_answer_close(ks_json_out *out);

#endif
