#include "cli/frame/plain.h"

#include "base/file.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { LONGEST_CHARACTER = 4 };

/* Whether the bytes could be the beginning of one character. */
static bool is_cut_off(const char *bytes, size_t length)
{
    unsigned char first = (unsigned char)*bytes;
    size_t whole = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 1;
    if (length >= whole || first > 0xF4)
        return false;
    for (size_t i = 1; i < length; i++)
        if (((unsigned char)bytes[i] & 0xC0) != 0x80)
            return false;
    return true;
}

/* Our own line ends and columns stay. */
static bool is_harmless(uint32_t code)
{
    return code == '\n' || code == '\t' || !ks_is_control(code);
}

size_t ks_plain_add(ks_text *to, const char *bytes, size_t length)
{
    size_t at = 0;
    while (at < length) {
        uint32_t code;
        int step = ks_utf8_next(bytes + at, length - at, &code);
        if (step == 0 && is_cut_off(bytes + at, length - at))
            break;
        if (step == 0)
            ks_text_print(to, "\\x%02X", (unsigned)(unsigned char)bytes[at]);
        else if (is_harmless(code))
            ks_text_add_n(to, bytes + at, (size_t)step);
        else
            ks_text_print(to, "\\u%04X", (unsigned)code);
        at += step > 0 ? (size_t)step : 1;
    }
    return at;
}

/* One of the two streams; what was cut off by the last piece waits for the next. */
typedef struct {
    int fd;
    size_t waiting;
    char begun[LONGEST_CHARACTER];
} plain_stream;

static ssize_t write_plain(void *cookie, const char *bytes, size_t length)
{
    plain_stream *stream = cookie;
    ks_arena arena = {0};
    ks_text all = {.arena = &arena}, plain = {.arena = &arena};
    ks_text_add_n(&all, stream->begun, stream->waiting);
    ks_text_add_n(&all, bytes, length);
    size_t taken = ks_plain_add(&plain, all.text, all.length);
    stream->waiting = all.length - taken;
    memcpy(stream->begun, all.text + taken, stream->waiting);
    ks_status status =
        ks_fd_write(stream->fd, "standard output", ks_text_end(&plain), plain.length, NULL);
    ks_arena_finish(&arena);
    return status ? 0 : (ssize_t)length; /* 0 is how such a stream says that it failed */
}

static FILE *open_plain(plain_stream *stream, int buffering)
{
    FILE *opened = fopencookie(stream, "w", (cookie_io_functions_t){.write = write_plain});
    if (opened)
        (void)setvbuf(opened, NULL, buffering, BUFSIZ);
    return opened;
}

void ks_plain_start(void)
{
    static plain_stream out = {.fd = STDOUT_FILENO}, err = {.fd = STDERR_FILENO};
    FILE *plain_out = open_plain(&out, isatty(STDOUT_FILENO) ? _IOLBF : _IOFBF);
    FILE *plain_err = open_plain(&err, _IONBF);
    if (!plain_out || !plain_err) { /* without memory for two buffers nothing else would work */
        (void)ks_fd_write(STDERR_FILENO, "standard error", "kilnstow: out of memory\n", 24, NULL);
        _exit(KS_SYSTEM);
    }
    stdout = plain_out; /* the C library's are variables, by its manual ("Standard Streams") */
    stderr = plain_err;
}

void ks_plain_wipe_line(void)
{
    static const char sequence[] = "\r\033[K";
    fflush(stderr);
    (void)ks_fd_write(STDERR_FILENO, "standard error", sequence, sizeof sequence - 1, NULL);
}

void ks_plain_aside(void)
{
    fflush(stdout);
    (void)dup2(STDERR_FILENO, STDOUT_FILENO);
}
