/* out.h: what files are written with, beside the base's growing text. */
#ifndef KILNSTOW_DRAW_SCENE_OUT_H
#define KILNSTOW_DRAW_SCENE_OUT_H

#include "base/text.h"

/* A number to the hundredth, without needless zeros and never "-0". */
void ks_drawn_number(ks_text *out, double value);

/* Text for XML and HTML: & < > " ' escaped. The text has to be clean (see ks_type_clean). */
void ks_escape_drawn(ks_text *out, const char *text);

#endif
