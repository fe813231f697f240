bayleaf.words("og",{"og":"2:k"});
