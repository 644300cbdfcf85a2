// Requests to the page's own server. Errors come back as data: { errors: [{ line, where, text }] }.

const token = document.querySelector('meta[name="token"]').content;

async function asked(address, options = {}) {
  let answer;
  try {
    answer = await fetch(address, options);
  } catch {
    return { status: 0, body: { errors: [{ line: null, where: "", text: "the server does not answer; start it again" }] } };
  }
  const type = answer.headers.get("content-type") ?? "";
  const body = type.startsWith("application/json") ? await answer.json() : await answer.blob();
  return { status: answer.status, body };
}

export const get = (address) => asked(address);

/** Send a text or JSON for an answer; nothing is written by it. */
export const ask = (address, body, signal) => {
  const text = typeof body === "string";
  return asked(address, {
    method: "POST",
    body: text ? body : JSON.stringify(body),
    headers: { "content-type": text ? "text/plain" : "application/json" },
    signal,
  });
};

/** Send what writes to the disk; the token shows that it is this page that asks. */
export const write = (address, body, headers = {}) => {
  const plain = typeof body === "string" || body instanceof Blob;
  return asked(address, {
    method: "POST",
    body: plain ? body : JSON.stringify(body),
    headers: { "content-type": plain ? "application/octet-stream" : "application/json", "matplan-token": token, ...headers },
  });
};
