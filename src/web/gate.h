/* gate.h: who is let in. A request's head is judged here before anything of its body is read or
 * anything is done for it. */
#ifndef KILNSTOW_WEB_GATE_H
#define KILNSTOW_WEB_GATE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    KS_HEAD_MOST = 32 * 1024,       /* bytes of all headers */
    KS_BODY_MOST = 8 * 1024 * 1024, /* bytes */
    KS_TOKEN_DIGITS = 32
};

/* A header that may stand in a request once only. */
typedef struct {
    int n;
    const char *value; /* of the first */
} ks_header;

/* The head of a request, as sent. */
typedef struct {
    const char *method, *path; /* path: not decoded, without what follows "?" */
    ks_header host, origin, token, content_type, content_length;
    size_t head_bytes;
} ks_request;

/* Takes one more header of it, which outlives it. */
void ks_request_add(ks_request *request, const char *name, const char *value);

/* What this run of the server answers to. */
typedef struct {
    char host[32];   /* "127.0.0.1:PORT" */
    char origin[40]; /* "http://127.0.0.1:PORT" */
    char token[KS_TOKEN_DIGITS + 1];
} ks_gate_keys;

typedef enum {
    KS_ROUTE_PAGE,    /* a file of the page */
    KS_ROUTE_FILES,   /* the folder's list */
    KS_ROUTE_FILE,    /* one file of it: `rest` is its name, not decoded */
    KS_ROUTE_JOBS,    /* a new job */
    KS_ROUTE_JOB,     /* one job: `rest` is its number */
    KS_ROUTE_DRAG,    /* one piece moved */
    KS_ROUTE_COMMAND, /* a command of the program: `rest` is its name */
} ks_route_kind;

typedef struct {
    ks_route_kind kind;
    const char *rest;    /* of the path, within ks_request.path */
    const char *methods; /* that may be used there: "GET, HEAD" */
} ks_route;

/* 0 when it is let in, and *route says where to; else the status of the refusal (RFC 9110), with
 * the reason in *why, for people. */
int ks_gate(const ks_request *request, const ks_gate_keys *keys, ks_route *route, const char **why);

#endif
