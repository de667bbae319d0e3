package org.quarterlight;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;

/** A line between a browser and the service, that can be cut, and that can lose answers whose requests have arrived. */
final class Line implements AutoCloseable {
    private final ServerSocket here;
    private final int port;
    private final Set<Socket> open = ConcurrentHashMap.newKeySet();
    private final Set<Socket> lost = ConcurrentHashMap.newKeySet();
    private final AtomicInteger posts = new AtomicInteger();
    private volatile boolean cut;
    private volatile boolean losesAnswersToPosts;
    private volatile String beforeWorker = "";
    private volatile int atPost = -1;
    private volatile Runnable whenAnswered = () -> {};

    Line(int port) {
        this.port = port;
        try {
            here = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        Thread.ofVirtual().start(this::listen);
    }

    String address() {
        return "http://localhost:" + here.getLocalPort();
    }

    void cut() {
        cut = true;
        open.forEach(Line::close);
    }

    void mend() {
        cut = false;
        losesAnswersToPosts = false;
    }

    /** Each form arrives, and what is answered to it does not. */
    void loseAnswersToPosts() {
        losesAnswersToPosts = true;
    }

    /** Runs this when the form of this number, counted from now, has been answered, whose answer is then lost. */
    void atAnswerToPost(int number, Runnable what) {
        whenAnswered = what;
        atPost = posts.get() + number;
    }

    /** How many forms have arrived. */
    int posts() {
        return posts.get();
    }

    /** Runs in the worker before its own lines, which no browser lets a test reach otherwise. */
    void beforeWorker(String script) {
        beforeWorker = script;
    }

    private void listen() {
        while (!here.isClosed()) {
            try {
                var browser = here.accept();
                if (cut) {
                    close(browser);
                } else {
                    Thread.ofVirtual().start(() -> connect(browser));
                }
            } catch (IOException e) {
                return; // closed
            }
        }
    }

    private void connect(Socket browser) {
        try (browser;
                var service = new Socket(InetAddress.getLoopbackAddress(), port)) {
            open.add(browser);
            open.add(service);
            var answers = Thread.ofVirtual().start(() -> carry(service, browser, false));
            carry(browser, service, true);
            close(service);
            answers.join();
        } catch (IOException e) {
            close(browser);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void carry(Socket from, Socket to, boolean requests) {
        var chunk = new byte[1 << 16];
        try {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            for (int length = in.read(chunk); length >= 0; length = in.read(chunk)) {
                var start = new String(chunk, 0, Math.min(length, 20), StandardCharsets.ISO_8859_1);
                if (requests && start.startsWith("GET /worker.js") && !beforeWorker.isEmpty()) {
                    from.getOutputStream().write(changedWorker());
                    continue;
                }
                if (requests && start.startsWith("POST ")) {
                    if (posts.incrementAndGet() == atPost || losesAnswersToPosts) {
                        lost.add(to);
                    }
                }
                if (!requests && lost.remove(from)) {
                    if (posts.get() == atPost) {
                        whenAnswered.run();
                    }
                    break;
                }
                out.write(chunk, 0, length);
                out.flush();
            }
        } catch (IOException e) {
            // One side has hung up, and so does the other.
        }
        close(from);
        close(to);
        open.remove(from);
        open.remove(to);
    }

    private byte[] changedWorker() throws IOException {
        try (var client = HttpClient.newHttpClient()) {
            var script = client.send(
                            HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/worker.js"))
                                    .build(),
                            HttpResponse.BodyHandlers.ofString())
                    .body();
            var body = (beforeWorker + "\n" + script).getBytes(StandardCharsets.UTF_8);
            var head = "HTTP/1.1 200 OK\r\nContent-Type: text/javascript\r\nCache-Control: no-cache\r\nContent-Length: "
                    + body.length + "\r\n\r\n";
            var answer = new byte[head.length() + body.length];
            System.arraycopy(head.getBytes(StandardCharsets.ISO_8859_1), 0, answer, 0, head.length());
            System.arraycopy(body, 0, answer, head.length(), body.length);
            return answer;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException(e);
        }
    }

    private static void close(Socket socket) {
        try {
            socket.close();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() {
        cut();
        try {
            here.close();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
