;;; rotorbook-mode.el --- Balancing setup sheets, checked as you type -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "29.1"))
;; Keywords: languages, tools
;; SPDX-License-Identifier: MIT OR Apache-2.0

;;; Commentary:

;; A mode for sheets of Rotorbook (.rotor): colours, indentation, comments, and the language server through eglot.
;; (add-hook 'rotorbook-mode-hook #'eglot-ensure) starts the server with every sheet.

;;; Code:

(require 'eglot)

(defgroup rotorbook nil
  "Balancing setup sheets."
  :group 'languages
  :prefix "rotorbook-")

(defcustom rotorbook-program "rotorbook"
  "The program that checks sheets: a name on the variable `exec-path', or a path."
  :type 'string)

(defcustom rotorbook-inlay-hints "all"
  "What is shown behind the lines of a sheet.
All: results, what is taken over from another sheet, and multiples of the
tolerance."
  :type '(choice (const "all") (const "results") (const "off")))

(defcustom rotorbook-error-delay 1000
  "Milliseconds that the line being written rests before its errors are shown."
  :type 'natnum)

(defcustom rotorbook-consequences "commit"
  "State that an edit is compared with: commit, save or off."
  :type '(choice (const "commit") (const "save") (const "off")))

(defconst rotorbook-kinds
  '("shop"
    "material"
    "masses"
    "machine"
    "arbor"
    "rotor"
    "setup"
    "record"
    "instrument"
    "severity"
    "readout"
    "scale"
    "control"
    "plane"
    "tolerance"
    "similar part"
    "keyway"
    "made of"
    "extra mass"
    "balance error"
    "settings"
    "calibrate"
    "trial"
    "proof"
    "proven with"
    "separation"
    "linearity"
    "check mass"
    "as run"
    "influence"
    "run"
    "correction"
    "traverse")
  "The words that open a block.")

(defconst rotorbook--word "[[:alpha:]][[:alnum:]_-]*")

(defconst rotorbook--words (concat rotorbook--word "\\(?:[ \t]+" rotorbook--word "\\)*"))

(defconst rotorbook--heading
  (concat "^[ \t]*\\("
          (mapconcat (lambda (kind) (replace-regexp-in-string " " "[ \t]+" kind)) rotorbook-kinds "\\|")
          "\\)\\(?:[ \t]+\\(\"[^\"\n]*\"\\|" rotorbook--word "\\)\\)?[ \t]*{")
  "A line that opens a block: its kind, and its name if it has one.")

(defconst rotorbook--number "\\_<[0-9]+\\(?:\\.[0-9]+\\)?\\(?:[eE][+-]?[0-9]+\\)?")

(defvar rotorbook-font-lock-keywords
  `((,rotorbook--heading (1 font-lock-keyword-face) (2 font-lock-function-name-face t t))
    (,(concat "^[ \t]*\\(" rotorbook--words "\\)?[ \t]*\\(\"[^\"\n]*\"\\)?[ \t]*\\(=>\\)")
     (1 font-lock-constant-face nil t) (2 font-lock-constant-face t t) (3 font-lock-builtin-face))
    (,(concat "^[ \t]*\\(" rotorbook--words "\\)?[ \t]*\\(\"[^\"\n]*\"\\)?[ \t]*:")
     (1 'font-lock-property-name-face nil t) (2 font-lock-variable-name-face t t))
    (,(concat "[ \t]\\(up[ \t]+to\\|to\\|from\\|at\\|on\\)[ \t]+\\(?:[-(\"]\\|[0-9]\\)") (1 font-lock-builtin-face))
    (,(concat "\\(" rotorbook--number "\\)[ \t]+\\([[:alpha:]°%][[:alnum:]°%·*/.^²³]*\\)")
     (1 'font-lock-number-face) (2 font-lock-type-face))
    (,rotorbook--number 0 'font-lock-number-face)
    ("\\(?::\\|=>\\)[ \t]*\\([[:alpha:]][^#\"\n]*\\)" (1 font-lock-constant-face)))
  "Colours until the server's own arrive, and without it.")

(defvar rotorbook-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\" "\"" table)
    ;; Strings have no escapes.
    (modify-syntax-entry ?\\ "." table)
    (modify-syntax-entry ?' "." table)
    (modify-syntax-entry ?{ "(}" table)
    (modify-syntax-entry ?} "){" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?_ "_" table)
    table))

(defun rotorbook-indent-line ()
  "Indent by two columns for each block that is open."
  (interactive)
  (let ((depth (save-excursion
                 (back-to-indentation)
                 (let ((open (car (syntax-ppss))))
                   (if (eq (char-after) ?}) (1- open) open)))))
    (if (<= (current-column) (current-indentation))
        (indent-line-to (* 2 (max 0 depth)))
      (save-excursion (indent-line-to (* 2 (max 0 depth)))))))

(defun rotorbook--project (folder)
  "The book that FOLDER is in, where no version control says what belongs together."
  (when-let ((root (locate-dominating-file folder "book.rotor")))
    (cons 'transient root)))

(defvar-keymap rotorbook-mode-map
  "C-c C-n" #'rotorbook-new-sheet
  "C-c C-s" #'rotorbook-show
  "C-c C-d" #'rotorbook-show-consequences
  "C-c C-p" #'rotorbook-pin-all
  "C-c C-x" #'rotorbook-fix-all
  "C-c C-a" #'eglot-code-actions
  "C-c C-f" #'eglot-format-buffer
  "C-c C-r" #'eglot-rename)

;;;###autoload
(define-derived-mode rotorbook-mode prog-mode "Rotor"
  "A balancing setup sheet."
  (setq-local comment-start "# ")
  (setq-local comment-start-skip "#+[ \t]*")
  (setq-local indent-tabs-mode nil)
  (setq-local indent-line-function #'rotorbook-indent-line)
  (setq-local electric-indent-chars (cons ?} electric-indent-chars))
  (setq-local font-lock-defaults '(rotorbook-font-lock-keywords))
  (add-hook 'project-find-functions #'rotorbook--project 90 t)
  (add-hook 'eglot-managed-mode-hook #'rotorbook--complete-words nil t)
  (setq-local eglot-workspace-configuration
              (lambda (_server) `(:rotorbook (:inlayHints ,rotorbook-inlay-hints :errorDelay ,rotorbook-error-delay
                                       :consequences ,rotorbook-consequences)))))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.rotor\\'" . rotorbook-mode))

(add-to-list 'eglot-server-programs
             `((rotorbook-mode :language-id "rotorbook") . ,(lambda (&rest _) (list rotorbook-program "lsp"))))

(defun rotorbook--complete-words ()
  "Have `completion-at-point' ask the server for offers of several words."
  (if (eglot-managed-p)
      (add-hook 'completion-at-point-functions #'rotorbook-completion-at-point -90 t)
    (remove-hook 'completion-at-point-functions #'rotorbook-completion-at-point t)))

(defun rotorbook-completion-at-point ()
  "Complete at point, replacing all the words that the server names.
Eglot by itself completes the symbol at point, which is only one of them."
  (eglot--signal-textDocument/didChange)
  (let* ((answer (jsonrpc-request (eglot--current-server-or-lose) :textDocument/completion
                                  (eglot--TextDocumentPositionParams)))
         (items (append (if (vectorp answer) answer (plist-get answer :items)) nil))
         (range (lambda (item) (plist-get (plist-get item :textEdit) :range)))
         (replaced (and items (funcall range (car items))))
         (offers (delq nil (mapcar (lambda (item)
                                     (and (equal (funcall range item) replaced)
                                          (cons (plist-get item :filterText) item)))
                                   items))))
    (when offers
      (let ((from (eglot--lsp-position-to-point (plist-get replaced :start))))
        (list from (eglot--lsp-position-to-point (plist-get replaced :end))
              (lambda (text predicate action)
                (if (eq action 'metadata)
                    '(metadata (display-sort-function . identity))
                  (complete-with-action action offers text predicate)))
              :annotation-function
              (lambda (offer) (concat " " (plist-get (cdr (assoc offer offers)) :detail)))
              :exit-function
              (lambda (offer status)
                (when-let ((item (and (memq status '(finished sole exact)) (cdr (assoc offer offers)))))
                  (delete-region from (point))
                  (rotorbook--insert-offer item))))))))

(defun rotorbook--insert-offer (item)
  "Write the offer ITEM of the server, with its stops where Emacs has them."
  (let ((text (plist-get (plist-get item :textEdit) :newText)))
    (if (and (eql (plist-get item :insertTextFormat) 2) (fboundp 'yas-expand-snippet))
        (yas-expand-snippet text)
      (insert text))))

(defun rotorbook--ask (command &rest arguments)
  "Ask the server of this sheet for COMMAND with ARGUMENTS after the sheet's place."
  (jsonrpc-request (eglot-current-server) :workspace/executeCommand
                   `(:command ,command
                     :arguments ,(vconcat (list (plist-get (eglot--TextDocumentIdentifier) :uri)) arguments))))

(defun rotorbook-show ()
  "Show everything computed for the item at point."
  (interactive)
  (rotorbook--show "rotorbook.show" "This sheet has no item yet"))

(defun rotorbook-show-consequences ()
  "Show what an edit of the item at point moves, in this sheet and others."
  (interactive)
  (rotorbook--show "rotorbook.consequences" "Nothing has moved since the last commit or save"))

(defun rotorbook--show (command empty)
  "Show what COMMAND answers for the item at point, or say EMPTY."
  (let ((text (rotorbook--ask command (eglot--pos-to-lsp-position))))
    (if (not (stringp text))
        (message "%s" empty)
      (with-current-buffer (get-buffer-create "*rotorbook*")
        (let ((inhibit-read-only t))
          (erase-buffer)
          (insert text)
          (goto-char (point-min)))
        (when (fboundp 'markdown-view-mode) (markdown-view-mode))
        (view-mode 1)
        (display-buffer (current-buffer))))))

(defun rotorbook-new-sheet ()
  "Begin a sheet of a kind, or one from a rotor or a setup of the book.
It goes into this buffer where that is empty, else into a file of its own."
  (interactive)
  (let* ((label (lambda (one)
                  (if-let ((from (plist-get one :from)))
                      (concat (plist-get one :title) ": " from)
                    (plist-get one :title))))
         (all (mapcar (lambda (one) (cons (funcall label one) one)) (rotorbook--ask "rotorbook.beginnings")))
         (chosen (cdr (assoc (completing-read "Begin a sheet: " all nil t) all)))
         (start (plist-get chosen :start)))
    (rotorbook--write-begun
     (if start
         (rotorbook--ask "rotorbook.begin" start (read-string (format "Name of the new %s: " start)))
       chosen))))

(declare-function yas-expand-snippet "yasnippet")

(defun rotorbook--write-begun (begun)
  "Write the sheet BEGUN, with point at the first place to fill in."
  (unless (string-blank-p (buffer-string))
    (unless (plist-get begun :uri) (user-error "A new sheet needs a book: open a file of one first"))
    (find-file (funcall (if (fboundp 'eglot-uri-to-path) 'eglot-uri-to-path 'eglot--uri-to-path)
                        (plist-get begun :uri))))
  (erase-buffer)
  (if (and (bound-and-true-p yas-minor-mode) (plist-get begun :snippet))
      (yas-expand-snippet (plist-get begun :snippet))
    (insert (plist-get begun :text))
    (goto-char (point-min))
    (when (search-forward " ?" nil t) (backward-char))))

(defun rotorbook-pin-all ()
  "Refresh all pinned results of this sheet."
  (interactive)
  (rotorbook--ask "rotorbook.pinAll"))

(defun rotorbook-fix-all ()
  "Fix everything in this sheet that has one obvious fix."
  (interactive)
  (rotorbook--ask "rotorbook.fixAll"))

(provide 'rotorbook-mode)
;;; rotorbook-mode.el ends here
