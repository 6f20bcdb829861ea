/* fuzz_request.c: requests of any bytes to the page's server are let in or refused with a status,
 * and none is let in that is not its own; what a body asks for is read or refused in words. The
 * first line is the method and the path, then come headers, an empty line and the body. */
#include "web/asked.h"
#include "web/folder.h"
#include "web/gate.h"
#include "web/page_file.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static const ks_gate_keys keys = {"127.0.0.1:7464", "http://127.0.0.1:7464",
                                  "0123456789abcdef0123456789abcdef"};

static void must(bool holds)
{
    if (!holds)
        abort();
}

/* The line at *at, ended by a NUL in place; *at is then the next, NULL behind the last. */
static char *next_line(char **at)
{
    char *line = *at, *end = strchr(line, '\n');
    if (end)
        *end = '\0';
    *at = end ? end + 1 : NULL;
    return line;
}

static void must_be_ours(const ks_request *request, const ks_route *route)
{
    must(request->host.n == 1 && strcmp(request->host.value, keys.host) == 0);
    must(request->origin.n == 0 || strcmp(request->origin.value, keys.origin) == 0);
    must(strstr(route->methods, request->method) != NULL);
    if (route->kind == KS_ROUTE_PAGE)
        must(ks_page_find(route->rest) != NULL);
    else
        must(request->token.n == 1 && strcmp(request->token.value, keys.token) == 0);
}

static void try_name(const char *sent)
{
    ks_arena arena = {0};
    const char *name = ks_name_decoded(sent, &arena);
    must(!name || (*name && *name != '.' && !strchr(name, '/')));
    ks_arena_finish(&arena);
}

static void try_body(const char *body)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_asked asked;
    ks_status status = ks_asked_read((ks_bytes){body, strlen(body)}, &arena, &asked, &err);
    must(status == KS_OK || (status == KS_BAD_INPUT && *err.text));
    for (int i = 0; status == KS_OK && i < asked.n_args; i++)
        must(strcmp(asked.args[i], "--") != 0);
    for (int i = 0; status == KS_OK && i < asked.n_files; i++)
        must(ks_name_is_plain(asked.files[i].name) && asked.files[i].text);
    ks_arena_finish(&arena);
}

static void try_request(char *text)
{
    ks_request request = {0};
    ks_route route;
    const char *why = NULL;
    char *at = text, *first = next_line(&at);
    char *path = strchr(first, ' ');
    if (path)
        *path++ = '\0';
    request.method = first;
    request.path = path && *path == '/' ? path : "/";
    while (at && *at != '\n' && *at) {
        char *name = next_line(&at), *value = strchr(name, ':');
        if (value)
            *value++ = '\0';
        ks_request_add(&request, name, value ? value + strspn(value, " ") : "");
    }
    int status = ks_gate(&request, &keys, &route, &why);
    must(status == 0 || (status >= 400 && status < 500 && why && *why));
    if (status == 0)
        must_be_ours(&request, &route);
    try_name(request.path);
    try_body(at ? at : "");
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    char *text = malloc(length + 1);
    if (!text)
        return 0;
    if (length > 0)
        memcpy(text, bytes, length);
    text[length] = '\0';
    try_request(text);
    free(text);
    return 0;
}
