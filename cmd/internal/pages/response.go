package pages

// Statuses of HTTP (RFC 9110 clause 15).
const (
	statusOK                    = 200
	statusSeeOther              = 303
	statusBadRequest            = 400
	statusNotFound              = 404
	statusMethodNotAllowed      = 405
	statusRequestEntityTooLarge = 413
)

// Response is an answer to a request, complete before the first byte is sent, so that
// a failure is never half a page.
type Response struct {
	Status int
	Kind   string // media type
	Body   Body
	Header []string // further names and values in turn
}

// Plain is a response of plain text.
func Plain(status int, text string) *Response {
	return &Response{Status: status, Kind: "text/plain; charset=utf-8", Body: bodyOf([]byte(text))}
}

func seeOther(address string) *Response {
	r := Plain(statusSeeOther, "")
	r.Header = []string{"Location", address}
	return r
}

// MethodRefused answers a method that is none of those allowed.
func MethodRefused(allowed string) *Response {
	r := Plain(statusMethodNotAllowed, "allowed methods are "+allowed+"\n")
	r.Header = []string{"Allow", allowed}
	return r
}
