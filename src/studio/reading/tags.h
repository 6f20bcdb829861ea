/* tags.h: tags of ware and glazes, one bit each in the order they are met. */
#ifndef KILNSTOW_STUDIO_READING_TAGS_H
#define KILNSTOW_STUDIO_READING_TAGS_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

enum { KS_MOST_TAGS = 32 };

/* The bits of `["chrome", ...]` (NULL = none); tags met for the first time join the order's. */
uint32_t ks_tags_read(ks_reading *reading, const ks_json *node);

/* The bit of a tag that something must already carry; 0 after noting that nothing does. */
uint32_t ks_tag_refer(ks_reading *reading, const ks_json *node);

void ks_tags_write(ks_json_out *out, const char *key, const ks_order *order, uint32_t tags);

/* `["5", "6"]`; nothing where both are NULL. */
void ks_cones_write(ks_json_out *out, const char *key, const char *low, const char *high);

#endif
