#include "web/gate.h"

#include "web/page_file.h"

#include <string.h>
#include <strings.h>

void ks_request_add(ks_request *request, const char *name, const char *value)
{
    const struct {
        const char *name;
        ks_header *into;
    } once[] = {
        {"Host", &request->host},
        {"Origin", &request->origin},
        {"Kilnstow-Token", &request->token},
        {"Content-Type", &request->content_type},
        {"Content-Length", &request->content_length},
    };
    request->head_bytes += strlen(name) + strlen(value) + strlen(": \r\n");
    for (size_t i = 0; i < sizeof once / sizeof *once; i++)
        if (strcasecmp(once[i].name, name) == 0 && once[i].into->n++ == 0)
            once[i].into->value = value;
}

/* In the order in which paths are compared; the first that matches counts. */
static const struct {
    const char *path, *methods;
    bool goes_on; /* something follows the path */
    ks_route_kind kind;
} routes[] = {
    {"/api/files", "GET", false, KS_ROUTE_FILES}, {"/api/files/", "GET, PUT", true, KS_ROUTE_FILE},
    {"/api/jobs", "POST", false, KS_ROUTE_JOBS},  {"/api/jobs/", "GET, DELETE", true, KS_ROUTE_JOB},
    {"/api/drag", "POST", false, KS_ROUTE_DRAG},
};

static const char *const commands[] = {"place", "check",    "fit",  "fire", "cost",
                                       "draw",  "calendar", "list", "log"};

static bool is_command(const char *name)
{
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        if (strcmp(name, commands[i]) == 0)
            return true;
    return false;
}

static bool find_api(const char *path, ks_route *route)
{
    for (size_t i = 0; i < sizeof routes / sizeof *routes; i++) {
        size_t length = strlen(routes[i].path);
        if (strncmp(path, routes[i].path, length) != 0 || !path[length] == routes[i].goes_on)
            continue;
        *route = (ks_route){routes[i].kind, path + length, routes[i].methods};
        return true;
    }
    *route = (ks_route){KS_ROUTE_COMMAND, path + strlen("/api/"), "POST"};
    return is_command(route->rest);
}

static bool is_api(const char *path)
{
    return strncmp(path, "/api/", strlen("/api/")) == 0 || strcmp(path, "/api") == 0;
}

/* Compares all digits whatever they are, so that the time it takes tells nothing of them. */
static bool is_token(const char *given, const char *token)
{
    unsigned differs = 0;
    if (strlen(given) != KS_TOKEN_DIGITS)
        return false;
    for (int i = 0; i < KS_TOKEN_DIGITS; i++)
        differs |= (unsigned)(given[i] ^ token[i]);
    return !differs;
}

static bool has_method(const char *methods, const char *method)
{
    size_t length = strlen(method);
    for (const char *at = methods; length > 0 && (at = strstr(at, method)); at += length)
        if ((at == methods || at[-1] == ' ') && (at[length] == ',' || !at[length]))
            return true;
    return false;
}

static bool is_json(const char *type)
{
    static const char json[] = "application/json";
    size_t length = strcspn(type, "; \t");
    return length == strlen(json) && strncmp(type, json, length) == 0;
}

/* Digits alone, and no more than a body may have. */
static int length_fault(const char *digits, const char **why)
{
    *why = "the length of the body has to be a whole number";
    if (!*digits || digits[strspn(digits, "0123456789")])
        return 400;
    digits += strspn(digits, "0");
    *why = "a body may have 8 MiB at most";
    if (strlen(digits) > 7)
        return 413;
    long length = 0;
    for (; *digits; digits++)
        length = length * 10 + (*digits - '0');
    return length > KS_BODY_MOST ? 413 : 0;
}

static int body_fault(const ks_request *request, const ks_route *route, const char **why)
{
    bool json = strcmp(request->method, "POST") == 0;
    if (request->content_length.n > 1) {
        *why = "the length of the body is told more than once";
        return 400;
    }
    int fault = request->content_length.n ? length_fault(request->content_length.value, why) : 0;
    if (fault || !json || route->kind == KS_ROUTE_PAGE)
        return fault;
    *why = "send JSON, and say so: Content-Type: application/json";
    return request->content_type.n == 1 && is_json(request->content_type.value) ? 0 : 415;
}

/* Whose request it is; before all else, so that a name that was led to this machine learns nothing.
 */
static int sender_fault(const ks_request *request, const ks_gate_keys *keys, const char **why)
{
    *why = "this server answers to its own address only, as it was printed when it began";
    if (request->host.n != 1 || strcmp(request->host.value, keys->host) != 0)
        return 421;
    *why = "the headers are longer than 32 KiB";
    if (request->head_bytes > KS_HEAD_MOST)
        return 431;
    *why = "only its own page may ask this server";
    if (request->origin.n > 1 ||
        (request->origin.n == 1 && strcmp(request->origin.value, keys->origin) != 0))
        return 403;
    *why = "the token is missing or is not of this run; open the address that kilnstow serve "
           "has printed";
    if (is_api(request->path) &&
        (request->token.n != 1 || !is_token(request->token.value, keys->token)))
        return 403;
    return 0;
}

int ks_gate(const ks_request *request, const ks_gate_keys *keys, ks_route *route, const char **why)
{
    *route = (ks_route){KS_ROUTE_PAGE, request->path, "GET, HEAD"};
    int fault = sender_fault(request, keys, why);
    if (fault)
        return fault;
    *why = "there is nothing at this address";
    if (is_api(request->path) ? !find_api(request->path, route) : !ks_page_find(request->path))
        return 404;
    *why = "this cannot be done at this address";
    if (!has_method(route->methods, request->method))
        return 405;
    return body_fault(request, route, why);
}
