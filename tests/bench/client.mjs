/** One caller over one kept connection on the loopback. */

import { Agent, request } from "node:http";

export class Client {
  #agent = new Agent({ keepAlive: true, maxSockets: 1 });
  #port;
  #token;

  /** @param {{ port: number, token: string }} server */
  constructor({ port, token }) {
    this.#port = port;
    this.#token = token;
  }

  /** Gets a path to its last byte; throws unless it answers 200. */
  get(path) {
    return this.#ask("GET", path);
  }

  /** Posts a body and reads the answer to its last byte; throws unless it is 200 or 201. */
  post(path, body) {
    return this.#ask("POST", path, JSON.stringify(body));
  }

  #ask(method, path, sent) {
    const { promise, resolve, reject } = settling();
    const options = { method, agent: this.#agent, host: "127.0.0.1", port: this.#port, path };
    const json = sent === undefined ? {} : { "content-type": "application/json" };
    const headers = { authorization: `Bearer ${this.#token}`, ...json };
    request({ ...options, headers }, (answer) => {
      let body = "";
      answer.setEncoding("utf8");
      answer.on("data", (text) => {
        body += text;
      });
      answer.on("end", () => {
        if (answer.statusCode === 200 || answer.statusCode === 201) resolve(body);
        else reject(new Error(`${path} answered ${answer.statusCode}: ${body}`));
      });
    })
      .on("error", reject)
      .end(sent);
    return promise;
  }

  /** The volumes of a shift by hour and line. */
  volumes(encounter, shift) {
    return this.get(`/v1/encounters/${encounter}/volumes?shift=${shift}&by=hour&per=line`);
  }

  close() {
    this.#agent.destroy();
  }
}

function settling() {
  let [resolve, reject] = [() => {}, () => {}];
  const promise = new Promise((done, failed) => {
    [resolve, reject] = [done, failed];
  });
  return { promise, resolve, reject };
}
