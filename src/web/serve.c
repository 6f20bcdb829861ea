#include "web/serve.h"

#include "app/watch.h"
#include "base/hash.h"
#include "base/language.h"
#include "web/call.h"
#include "web/command_call.h"
#include "web/drag.h"
#include "web/folder.h"
#include "web/plan_job.h"
#include "web/page_file.h"
#include "web/port.h"
#include "web/server.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    CONNECTIONS_MOST = 256,
    CONNECTION_BYTES = 128 * 1024,  /* of which a head may take KS_HEAD_MOST */
    DROPPED_MOST = 64 * 1024 * 1024 /* of a body that is too long and not told to be */
};

static enum MHD_Result take_header(void *payload, enum MHD_ValueKind kind, const char *name,
                                   size_t name_length, const char *value, size_t value_length)
{
    (void)kind, (void)name_length, (void)value_length;
    ks_request_add(payload, name, value ? value : "");
    return MHD_YES;
}

static ks_request read_head(struct MHD_Connection *connection, const char *method, const char *path)
{
    ks_request request = {.method = method, .path = path};
    request.head_bytes = strlen(method) + strlen(path);
    (void)MHD_get_connection_values_n(connection, MHD_HEADER_KIND, take_header, &request);
    return request;
}

static enum MHD_Result send_answer(ks_call *call)
{
    ks_client_allow(call->connection, KS_BODY_SECONDS);
    return MHD_queue_response(call->connection, (unsigned)call->status, call->response);
}

/* The head has come: who is not let in is told so at once, and nothing more of it is read. */
static enum MHD_Result begin(ks_server *server, struct MHD_Connection *connection,
                             const char *method, const char *path, void **context)
{
    const char *why = "";
    ks_call *call = calloc(1, sizeof *call);
    if (!call)
        ks_no_memory();
    *context = call;
    call->server = server;
    call->connection = connection;
    ks_request request = read_head(connection, method, path);
    int fault = ks_gate(&request, &server->keys, &call->route, &why);
    ks_client_allow(connection, KS_BODY_SECONDS);
    if (fault) {
        ks_reply_failure(call, fault, why);
        return send_answer(call);
    }
    call->method = ks_arena_text(&call->arena, method);
    if (call->route.kind != KS_ROUTE_PAGE)
        call->route.rest = ks_arena_text(&call->arena, call->route.rest);
    return MHD_YES;
}

/* A body whose length is not told in advance may turn out too long; the refusal can only be sent
 * at its end. */
static enum MHD_Result take_body(ks_call *call, const char *bytes, size_t length)
{
    if (call->length + length > KS_BODY_MOST) {
        call->too_long = true;
        call->length += length;
        return call->length > DROPPED_MOST ? MHD_NO : MHD_YES;
    }
    if (call->length + length >= call->room) {
        call->room = 2 * (call->length + length) + 1024;
        call->body = realloc(call->body, call->room);
        if (!call->body)
            ks_no_memory();
    }
    memcpy(call->body + call->length, bytes, length);
    call->length += length;
    call->body[call->length] = '\0';
    return MHD_YES;
}

static void reply_page(ks_call *call)
{
    const ks_page_file *file = ks_page_find(call->route.rest);
    char etag[65 + 2] = "\"";
    ks_sha256(file->bytes, file->length, etag + 1);
    strcpy(etag + 33, "\"");
    bool same = call->if_none_match && strcmp(call->if_none_match, etag) == 0;
    ks_bytes bytes = {(const char *)file->bytes, file->length};
    ks_reply(call, same ? 304 : 200, ks_media_type(file->name), same ? (ks_bytes){"", 0} : bytes);
    ks_reply_header(call, "ETag", etag);
}

static void answer(ks_call *call)
{
    if (call->too_long) {
        ks_reply_failure(call, 413, "a body may have 8 MiB at most");
        return;
    }
    switch (call->route.kind) {
    case KS_ROUTE_PAGE:
        reply_page(call);
        return;
    case KS_ROUTE_FILES:
        ks_folder_list(call);
        return;
    case KS_ROUTE_FILE:
        if (strcmp(call->method, "PUT") == 0)
            ks_folder_put(call);
        else
            ks_folder_get(call);
        return;
    case KS_ROUTE_COMMAND:
        ks_command_call(call);
        return;
    case KS_ROUTE_JOBS:
        ks_plan_job_post(call);
        return;
    case KS_ROUTE_JOB:
        if (strcmp(call->method, "DELETE") == 0)
            ks_plan_job_delete(call);
        else
            ks_plan_job_get(call);
        return;
    case KS_ROUTE_DRAG:
        ks_drag_call(call);
        return;
    }
}

/* Called by the library when the head of a request is there, with each part of its body, at its
 * end, and once more when a call that waited is answered. */
static enum MHD_Result handle(void *payload, struct MHD_Connection *connection, const char *url,
                              const char *method, const char *version, const char *upload,
                              size_t *upload_length, void **context)
{
    ks_call *call = *context;
    (void)version;
    if (!call)
        return begin(payload, connection, method, url, context);
    if (*upload_length > 0) {
        size_t length = *upload_length;
        *upload_length = 0;
        return take_body(call, upload, length);
    }
    if (!call->response) {
        call->if_match = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, "If-Match");
        call->if_none_match =
            MHD_lookup_connection_value(connection, MHD_HEADER_KIND, "If-None-Match");
        ks_client_allow(connection, INFINITY);
        answer(call);
    }
    return call->response ? send_answer(call) : MHD_YES;
}

static void end_call(void *payload, struct MHD_Connection *connection, void **context,
                     enum MHD_RequestTerminationCode how)
{
    ks_call *call = *context;
    (void)payload, (void)how;
    if (!call)
        return;
    if (call->give_up)
        call->give_up(call);
    if (call->response)
        MHD_destroy_response(call->response);
    ks_client_allow(connection, KS_HEAD_SECONDS);
    ks_arena_finish(&call->arena);
    free(call->body);
    free(call);
    *context = NULL;
}

/* Names of files are decoded where they are looked at, and there with care. */
static size_t leave_as_sent(void *payload, struct MHD_Connection *connection, char *text)
{
    (void)payload, (void)connection;
    return strlen(text);
}

static ks_status make_keys(ks_gate_keys *keys, int port, ks_error *err)
{
    unsigned char random[KS_TOKEN_DIGITS / 2];
    if (getrandom(random, sizeof random, 0) != sizeof random)
        return ks_fail(err, KS_SYSTEM, "serve: the system has no random numbers to give");
    for (size_t i = 0; i < sizeof random; i++)
        snprintf(keys->token + 2 * i, 3, "%02x", random[i]);
    snprintf(keys->host, sizeof keys->host, "127.0.0.1:%d", port);
    snprintf(keys->origin, sizeof keys->origin, "http://%s", keys->host);
    return KS_OK;
}

static struct MHD_Daemon *start(ks_server *server, int listening)
{
    return MHD_start_daemon(MHD_USE_EPOLL | MHD_ALLOW_SUSPEND_RESUME, 0, NULL, NULL, handle, server,
                            MHD_OPTION_LISTEN_SOCKET, listening, MHD_OPTION_CONNECTION_LIMIT,
                            CONNECTIONS_MOST, MHD_OPTION_CONNECTION_MEMORY_LIMIT,
                            (size_t)CONNECTION_BYTES, MHD_OPTION_NOTIFY_COMPLETED, end_call, server,
                            MHD_OPTION_NOTIFY_CONNECTION, ks_client_notice, &server->clients,
                            MHD_OPTION_UNESCAPE_CALLBACK, leave_as_sent, NULL, MHD_OPTION_END);
}

static void serve_on(ks_server *server, const volatile sig_atomic_t *stop)
{
    int fd = MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_EPOLL_FD)->epoll_fd;
    (void)ks_language_use("en"); /* what it answers is for programs */
    while (!*stop) {
        MHD_UNSIGNED_LONG_LONG ms = 0;
        double most = ks_clients_sweep(&server->clients);
        if (MHD_get_timeout(server->daemon, &ms) == MHD_YES)
            most = fmin(most, (double)ms / 1000);
        ks_errands_wait(&server->errands, fd, most);
        (void)MHD_run(server->daemon);
    }
}

/* Those that wait are told; the library is not to end while it holds any back. */
static void end_waiting(ks_server *server)
{
    while (server->waiting)
        server->waiting->give_up(server->waiting);
    ks_plan_jobs_finish(server);
    ks_drag_desk_close(server);
    (void)MHD_run(server->daemon);
}

static ks_status find_folder(const char *path, char **real, ks_error *err)
{
    struct stat about;
    *real = realpath(path, NULL);
    if (*real && stat(*real, &about) == 0 && S_ISDIR(about.st_mode))
        return KS_OK;
    return ks_fail(err, KS_SYSTEM, "%s: cannot open this folder: %s", path,
                   strerror(*real ? ENOTDIR : errno));
}

ks_status ks_serve(const ks_serve_job *job, ks_error *err)
{
    ks_server server = {0};
    char address[sizeof server.keys.origin + sizeof server.keys.token + 2];
    int port, listening;
    char *folder = NULL;
    ks_status status = find_folder(job->folder, &folder, err);
    server.folder = folder;
    if (!status)
        status = ks_port_listen(job->port, &port, &listening, err);
    if (!status)
        status = make_keys(&server.keys, port, err);
    server.daemon = status ? NULL : start(&server, listening);
    if (!status && !server.daemon)
        status = ks_fail(err, KS_SYSTEM, "serve: the server cannot be started");
    if (!status) {
        snprintf(address, sizeof address, "%s/#%s", server.keys.origin, server.keys.token);
        job->told(address, job->payload);
        serve_on(&server, job->stop);
        end_waiting(&server);
        MHD_stop_daemon(server.daemon);
    }
    free(folder);
    return status;
}
