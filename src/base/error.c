#include "kilnstow/error.h"

#include "base/text.h"

#include <stdarg.h>
#include <string.h>

/* What was found in a file goes into messages, and could hold anything. */
static void keep_one_line(char *text)
{
    for (int bytes; *text; text += bytes > 0 ? bytes : 1) {
        bytes = ks_utf8_next(text, strlen(text), NULL);
        if (bytes == 0)
            *text = '?';
        else if ((unsigned char)*text < ' ' || *text == 0x7F)
            *text = ' ';
    }
}

ks_status ks_fail(ks_error *err, ks_status status, const char *format, ...)
{
    if (!err)
        return status;
    if (err->count == 0)
        err->status = status;
    if (err->count++ >= KS_ERRORS_SHOWN)
        return status;
    size_t used = strlen(err->text);
    if (used > 0 && used + 1 < sizeof err->text) {
        err->text[used++] = '\n';
        err->text[used] = '\0';
    }
    va_list args;
    va_start(args, format);
    (void)ks_print_plain(err->text + used, sizeof err->text - used, format, args);
    va_end(args);
    keep_one_line(err->text + used);
    return status;
}
