#include "draw/scene/out.h"

#include <math.h>
#include <stdio.h>

void ks_drawn_number(ks_text *out, double value)
{
    char text[40];
    int length = snprintf(text, sizeof text, "%.2f", fabs(value) < 0.005 ? 0.0 : value);
    while (length > 0 && text[length - 1] == '0')
        length--;
    if (length > 0 && text[length - 1] == '.')
        length--;
    ks_text_add_n(out, text, (size_t)length);
}

static const char *escape_of(char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

void ks_escape_drawn(ks_text *out, const char *text)
{
    for (; *text; text++) {
        const char *escape = escape_of(*text);
        if (escape)
            ks_text_add(out, escape);
        else
            ks_text_add_n(out, text, 1);
    }
}
