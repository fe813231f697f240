bayleaf.words("as",{"as":"1:1;2:9","aside":"2:7"});
