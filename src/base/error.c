#include "kilnstow/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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
    (void)vsnprintf(err->text + used, sizeof err->text - used, format, args);
    va_end(args);
    return status;
}
